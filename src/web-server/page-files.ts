import { readdir, readFile } from 'node:fs/promises'
import { extname, join, sep } from 'node:path'
import type { Context } from 'hono'

/** A built file of the page, held in memory. */
export interface PageFile {
  readonly type: string
  readonly bytes: Uint8Array<ArrayBuffer>
  /** The same with Brotli, where the build made that. */
  readonly brotli?: Uint8Array<ArrayBuffer>
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
  const contents = new Map<string, Uint8Array<ArrayBuffer>>()
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue
    const path = join(entry.parentPath, entry.name)
    const url = path.slice(folder.length).split(sep).join('/').replace(/^\/*/, '/')
    contents.set(url, new Uint8Array(await readFile(path)))
  }
  const files = new Map<string, PageFile>()
  for (const [url, bytes] of contents) {
    if (url.endsWith('.br')) continue
    const brotli = contents.get(`${url}.br`)
    files.set(url, { type: types[extname(url)] ?? 'application/octet-stream', bytes, ...(brotli && { brotli }) })
  }
  const page = files.get('/index.html')
  if (page) files.set('/', page)
  return files
}

/** A file of the page; compressed for a browser that takes it. Parts never change, all else is asked for each time. */
export function sendFile(c: Context, path: string, file: PageFile): Response {
  c.header('Content-Type', file.type)
  c.header('Cache-Control', path.startsWith('/parts/') ? 'public, max-age=31536000, immutable' : 'no-cache')
  if (!file.brotli) return c.body(file.bytes)
  c.header('Vary', 'Accept-Encoding')
  if (!/\bbr\b/.test(c.req.header('accept-encoding') ?? '')) return c.body(file.bytes)
  c.header('Content-Encoding', 'br')
  return c.body(file.brotli)
}
