import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { brotliDecompressSync, gzipSync } from 'node:zlib'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { combscribe } from '../command.ts'
import { ask } from './ask.ts'
import { type Serving, serving } from './serving.ts'

/** The page as files: what is built, what is served, what a club's host is given. */
let server: Serving
let folder: string
beforeAll(async () => {
  server = await serving()
  folder = mkdtempSync(join(tmpdir(), 'combscribe-page-'))
})
afterAll(async () => {
  await server.stop()
  rmSync(folder, { recursive: true, force: true })
})

/** Every file with the hash of its content, as the worker is told. */
const worker = readFileSync('dist/web/service-worker.js', 'utf8')
const listed = [...worker.matchAll(/\{url:"([^"]+)",revision:(null|"\w+")\}/g)].map((match) => match[1]!)
/** What the worker fetches when the page is there. */
const later = [...worker.matchAll(/"(parts\/(?:draw-plot|open|learned)-\w+\.js)"/g)].map((match) => match[1]!)
const built = readdirSync('dist/web', { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => join(entry.parentPath, entry.name).slice('dist/web/'.length))

/** Bytes of the answer's body as they go over the wire. */
function wireSize(path: string, encodings: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const headers = { host: `localhost:${server.port}`, 'accept-encoding': encodings }
    request({ host: '127.0.0.1', port: server.port, path, headers }, (answer) => {
      let size = 0
      answer.on('data', (part: Buffer) => {
        size += part.length
      })
      answer.on('end', () => (answer.statusCode === 200 ? resolve(size) : reject(new Error(`${path}: not there`))))
    })
      .on('error', reject)
      .end()
  })
}

describe('the first load', () => {
  test('is under 350 kB over the wire, all that the page needs without a network included', async () => {
    expect(listed.length).toBeGreaterThan(5)
    const paths = ['', 'service-worker.js', ...listed]
    const sizes = await Promise.all(paths.map((path) => wireSize(`/${path}`, 'gzip, deflate, br')))
    const total = sizes.reduce((a, b) => a + b, 0)
    expect(total).toBeGreaterThan(100_000)
    expect(total).toBeLessThan(350_000)
  })
  test('is not much more with gzip, for hosts that have nothing better', () => {
    const sizes = ['service-worker.js', ...listed].map((path) => gzipSync(readFileSync(`dist/web/${path}`)).length)
    expect(sizes.reduce((a, b) => a + b, 0)).toBeLessThan(420_000)
  })
  test('only the plots, what opens transcripts and what was learned come later', async () => {
    expect(later.map((name) => name.replace(/-\w+\.js$/, '')).sort()).toEqual([
      'parts/draw-plot',
      'parts/learned',
      'parts/open',
    ])
    for (const name of later) {
      expect(listed).not.toContain(name)
      expect(await wireSize(`/${name}`, 'br')).toBeLessThan(name.includes('learned') ? 1_100_000 : 30_000)
    }
  })
  test('the worker lists every file but itself, the licences and the pictures for the home screen', () => {
    expect([...listed, ...later].sort()).toEqual(
      built.filter((name) => !/^service-worker\.js$|^LICENCES\.txt$|^icons\/.*\.png$|\.br$/.test(name)).sort(),
    )
  })
})

test('what is compressed is the same, and only for who takes it', async () => {
  const part = listed.find((path) => path.startsWith('parts/') && built.includes(`${path}.br`))!
  const plain = await ask(server, `/${part}`)
  expect(plain.headers).not.toHaveProperty('content-encoding')
  expect(plain.text).toBe(readFileSync(`dist/web/${part}`, 'utf8'))
  expect(brotliDecompressSync(readFileSync(`dist/web/${part}.br`)).toString()).toBe(plain.text)
  const packed = await ask(server, `/${part}`, { headers: { 'accept-encoding': 'gzip, br' } })
  expect(packed.headers).toMatchObject({ 'content-encoding': 'br', vary: 'Accept-Encoding' })
  expect((await ask(server, `/${part}.br`)).status).toBe(404)
})

describe('the page can stand under any path', () => {
  test('no address begins with a slash or names a host', () => {
    const page = readFileSync('dist/web/index.html', 'utf8')
    const addresses = [...page.matchAll(/(?:href|src)="([^"]+)"/g)].map((match) => match[1]!)
    expect(addresses.length).toBeGreaterThan(3)
    const { start_url, scope, id, icons } = JSON.parse(readFileSync('dist/web/manifest.webmanifest', 'utf8'))
    addresses.push(start_url, scope, id, ...icons.map(({ src }: { src: string }) => src), ...listed)
    expect(addresses.filter((address) => /^\/|:/.test(address))).toEqual([])
    for (const address of addresses) if (address !== './') expect(built).toContain(address)
  })
  test('it keeps the policy of the server where no header can be sent', async () => {
    const { headers, text } = await ask(server, '/')
    const said = /http-equiv="Content-Security-Policy"\s+content="([^"]+)"/.exec(text)?.[1]
    // A page cannot forbid frames around itself; that only a header can.
    expect(headers['content-security-policy']).toBe(`${said}; frame-ancestors 'none'`)
  })
})

describe('serve --to', () => {
  test('writes the files, and over them again, and takes old parts away', () => {
    const to = join(folder, 'club', 'hives')
    expect(combscribe(['serve', '--to', to])).toMatchObject({ code: 0, err: '' })
    mkdirSync(join(to, 'parts'), { recursive: true })
    writeFileSync(join(to, 'parts/old-ABC.js'), '')
    expect(combscribe(['serve', '--to', to])).toMatchObject({ code: 0, err: '' })
    for (const name of built) expect(readFileSync(join(to, name)).equals(readFileSync(`dist/web/${name}`))).toBe(true)
    const there = readdirSync(to, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())
    expect(there.length).toBe(built.length)
  })
  test('leaves a folder with other files alone', () => {
    const to = join(folder, 'photos')
    mkdirSync(to)
    writeFileSync(join(to, 'index.html'), '<title>My photos</title>')
    const { code, err } = combscribe(['serve', '--to', to])
    expect(code).toBe(2)
    expect(err).toMatch(/^combscribe: .*photos: there are other files in this folder; name an empty one\.\n$/)
    expect(readdirSync(to)).toEqual(['index.html'])
    expect(readFileSync(join(to, 'index.html'), 'utf8')).toBe('<title>My photos</title>')
  })
  test('a file in its place is one sentence', () => {
    writeFileSync(join(folder, 'file'), '')
    expect(combscribe(['serve', '--to', join(folder, 'file')]).err).toMatch(/^combscribe: [^\n]+\.\n$/)
  })
})
