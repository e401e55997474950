import { readdir, readFile } from 'node:fs/promises'
import { extname, join, sep } from 'node:path'
import { promisify } from 'node:util'
import { brotliCompress, constants } from 'node:zlib'
import type { Context } from 'hono'

/** A built file of the page, held in memory. */
export interface PageFile {
  readonly type: string
  readonly bytes: Uint8Array<ArrayBuffer>
  /** Made at the first request for it; undefined where it does not pay. */
  compressed?: Promise<Uint8Array<ArrayBuffer> | undefined>
}

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.txt': 'text/plain; charset=utf-8',
}

/** The files under a folder by their path in the URL, `/app.js`; `/` is the page. */
export async function readPageFiles(folder: string): Promise<Map<string, PageFile>> {
  const files = new Map<string, PageFile>()
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue
    const path = join(entry.parentPath, entry.name)
    const type = types[extname(path)] ?? 'application/octet-stream'
    const bytes = new Uint8Array(await readFile(path))
    files.set(path.slice(folder.length).split(sep).join('/').replace(/^\/*/, '/'), { type, bytes })
  }
  const page = files.get('/index.html')
  if (page) files.set('/', page)
  return files
}

/** A file of the page; compressed for a browser that takes it. Parts never change, all else is asked for each time. */
export async function sendFile(c: Context, path: string, file: PageFile): Promise<Response> {
  c.header('Content-Type', file.type)
  c.header('Cache-Control', path.startsWith('/parts/') ? 'public, max-age=31536000, immutable' : 'no-cache')
  if (file.type === 'image/png') return c.body(file.bytes)
  c.header('Vary', 'Accept-Encoding')
  if (!/\bbr\b/.test(c.req.header('accept-encoding') ?? '')) return c.body(file.bytes)
  file.compressed ??= compress(file.bytes)
  const compressed = await file.compressed
  if (!compressed) return c.body(file.bytes)
  c.header('Content-Encoding', 'br')
  return c.body(compressed)
}

async function compress(bytes: Uint8Array): Promise<Uint8Array<ArrayBuffer> | undefined> {
  // The best level takes seconds for the reader; this one is as good within a hundredth.
  const params = { [constants.BROTLI_PARAM_QUALITY]: 9, [constants.BROTLI_PARAM_LGWIN]: 22 }
  const small = await promisify(brotliCompress)(bytes, { params })
  return small.length < bytes.length ? new Uint8Array(small) : undefined
}
