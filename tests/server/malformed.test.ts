import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ask } from './ask.ts'
import { type Serving, serving } from './serving.ts'

/** Requests that no browser would send, through a bare socket. The seed makes every run the same. */
const seed = 20_260_504
let server: Serving
let folder: string

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-malformed-'))
  const yard = join(folder, 'yard.json')
  const recogniser = [process.execPath, '-e', 'console.log("two frames of brood")', '{audio}']
  writeFileSync(yard, JSON.stringify({ recogniser }))
  server = await serving(['--yard', yard, '--logbook', join(folder, 'book.db')], { env: { TMPDIR: folder } })
})
afterAll(async () => {
  await server.stop()
  rmSync(folder, { recursive: true, force: true })
})

const crlf = '\r\n'
const host = (): string => `localhost:${server.port}`
const requestOf = (line: string, headers: readonly string[], body = ''): string =>
  [line, ...headers, '', body].join(crlf)
const note = JSON.stringify({ name: 'n', date: '2026-05-04', text: 'Hive one. Two frames of brood.' })

/** Whole requests of which every byte is in place. */
const good = (): string[] => [
  requestOf('GET / HTTP/1.1', [`Host: ${host()}`]),
  requestOf('GET /api/home HTTP/1.1', [`Host: ${host()}`, 'Accept-Encoding: br']),
  requestOf('GET /api/history?hive=1 HTTP/1.1', [`Host: ${host()}`]),
  requestOf('GET /api/due?date=2026-05-04 HTTP/1.1', [`Host: ${host()}`]),
  requestOf(
    'POST /api/notes HTTP/1.1',
    [`Host: ${host()}`, 'Content-Type: application/json', `Content-Length: ${note.length}`],
    note,
  ),
]

const oneOf = <T>(...values: T[]) => fc.constantFrom(...values)
const junk = fc.uint8Array({ minLength: 1, maxLength: 300 }).map((bytes) => Buffer.from(bytes).toString('latin1'))
const methods = oneOf('GET', 'POST', 'HEAD', 'PUT', 'OPTIONS', 'TRACE', 'CONNECT', 'PRI', 'get', 'G ET', '', 'BREW')
const targets = fc.oneof(
  oneOf(
    '/',
    '/api/home',
    '/api/notes',
    '/api/transcripts',
    '/api/history?hive=%',
    '/api/due?date=%00',
    '*',
    '//',
    '',
    '?',
  ),
  oneOf(
    'http://hives.example/',
    'http://[',
    '/%',
    '/%ff%fe',
    '/..%c0%af..',
    '/api/../../x',
    '/a\0b',
    '/api/history?hive[]=1',
  ),
  oneOf('/api/history?hive=__proto__', '/__proto__', '/constructor', '/api/toString', `/${'a/'.repeat(4000)}`),
  junk.map((text) => `/${text}`),
)
const versions = oneOf('HTTP/1.1', 'HTTP/1.0', 'HTTP/0.9', 'HTTP/2.0', 'HTTP/9.9', 'HTTP/1.1 x', '', 'ICY')
const header = fc.oneof(
  oneOf('Content-Length: -1', 'Content-Length: 5, 6', 'Content-Length: 1e3', 'Content-Length: 99999999999999999999'),
  oneOf('Content-Length: 4', 'Content-Length: 0', 'Transfer-Encoding: chunked', 'Transfer-Encoding: gzip, chunked'),
  oneOf(
    'Transfer-Encoding: chunked, identity',
    'Transfer-Encoding : chunked',
    'Content-Length: 4\r\nContent-Length: 5',
  ),
  oneOf(
    'Content-Type: application/json',
    'Content-Type: audio/wav',
    'Content-Type: ;',
    'Content-Type: application/json; charset=x',
  ),
  oneOf('Host: hives.example', 'Host:', 'Host: a b', 'Host: [::1', 'host: localhost\0'),
  oneOf(
    'Origin: null',
    'Origin: \xff',
    'Sec-Fetch-Site: x',
    'Connection: Upgrade\r\nUpgrade: websocket',
    'Upgrade: h2c',
  ),
  oneOf('Expect: 100-continue', 'Expect: 200-ok', 'Accept-Encoding: br;q=nan', 'Range: bytes=-', 'If-None-Match: *'),
  oneOf(' folded: line', ': no name', 'no colon', 'A\0: b', `X: ${'y'.repeat(20_000)}`, 'X: y\nZ: w'),
  junk.map((text) => `X-Junk: ${text}`),
)
const body = fc.oneof(
  oneOf('', note, '{', '[]', '"', 'null', '{"__proto__":{"x":1}}', '['.repeat(50_000), '{"a":'.repeat(50_000)),
  oneOf(
    '5\r\nhello\r\n0\r\n\r\n',
    'zz\r\n',
    'FFFFFFFFFFFFFFFFFF\r\n',
    '0\r\n\r\nGET / HTTP/1.1\r\n\r\n',
    '4;ext\r\nabcd\r\n',
  ),
  junk,
)
const built = fc
  .record({
    method: methods,
    target: targets,
    version: versions,
    hosted: fc.boolean(),
    headers: fc.array(header, { maxLength: 5 }),
    body,
  })
  .map(({ method, target, version, hosted, headers, body: said }) =>
    requestOf(`${method} ${target} ${version}`, [...(hosted ? [`Host: ${host()}`] : []), ...headers], said),
  )
/** A JSON note with the right head, so that it comes as far as the schema. */
const posted = fc
  .oneof(
    fc.json(),
    fc
      .record({
        name: fc.string(),
        date: oneOf('2026-05-04', '9999-12-31', ''),
        text: fc.string({ unit: 'binary', maxLength: 80 }),
      })
      .map((visit) => JSON.stringify(visit)),
    junk,
  )
  .map((text) => Buffer.from(text, 'utf8').toString('latin1'))
  .map((text) =>
    requestOf(
      'POST /api/notes HTTP/1.1',
      [`Host: ${host()}`, 'Content-Type: application/json', `Content-Length: ${text.length}`],
      text,
    ),
  )
const recorded = fc
  .oneof(
    junk,
    junk.map((text) => `RIFF\0\0\0\0WAVE${text}`),
  )
  .map((text) =>
    requestOf(
      'POST /api/transcripts HTTP/1.1',
      [`Host: ${host()}`, 'Content-Type: audio/wav', `Content-Length: ${text.length}`],
      text,
    ),
  )
/** A good request with some bytes changed, taken out, doubled, or cut off. */
const bent = fc
  .record({
    which: fc.nat(),
    edits: fc.array(
      fc.record({ at: fc.nat(), kind: oneOf('set', 'cut', 'put', 'end'), byte: fc.integer({ min: 0, max: 255 }) }),
      {
        minLength: 1,
        maxLength: 6,
      },
    ),
  })
  .map(({ which, edits }) => {
    let text = good()[which % good().length]!
    for (const { at, kind, byte } of edits) {
      const place = at % (text.length + 1)
      const rest = kind === 'put' ? place : place + 1
      if (kind === 'end') text = text.slice(0, place)
      else text = text.slice(0, place) + (kind === 'cut' ? '' : String.fromCharCode(byte)) + text.slice(rest)
    }
    return text
  })

/** Sends bytes as they are, closes its own side, and gives all that came back before the server closed. */
function talk(text: string, patience = 20_000, closes = true): Promise<string> {
  return new Promise((resolve, reject) => {
    let heard = ''
    const socket = connect(server.port, '127.0.0.1')
    const late = setTimeout(() => {
      socket.destroy()
      reject(new Error(`neither answered nor closed: ${JSON.stringify(text.slice(0, 300))}`))
    }, patience)
    socket.on('connect', () => (closes ? socket.end(text, 'latin1') : socket.write(text, 'latin1')))
    socket.on('data', (part) => {
      heard += part.toString('latin1')
    })
    // A reset is a way of closing, too.
    socket.on('error', () => {})
    socket.on('close', () => {
      clearTimeout(late)
      resolve(heard)
    })
  })
}

const stillWell = async (): Promise<void> => {
  expect(server.process.exitCode).toBeNull()
  expect((await ask(server, '/api/home')).json()).toMatchObject({ version: '0.1.0', recogniser: true, logbook: true })
}

async function withstands(requests: readonly string[]): Promise<Map<string, number>> {
  const counts = new Map<string, number>()
  const waiting = [...requests]
  const one = async (): Promise<void> => {
    for (let text = waiting.pop(); text !== undefined; text = waiting.pop()) {
      // "Go on" is no answer yet.
      const heard = (await talk(text)).replace(/^(HTTP\/1\.1 100 Continue\r\n\r\n)+/, '')
      if (heard !== '') expect(heard, JSON.stringify(text.slice(0, 300))).toMatch(/^HTTP\/1\.1 [2345]\d\d /)
      const status = heard.slice(9, 12) || 'closed'
      // Whatever comes in is the asker's fault, not ours.
      if (status.startsWith('5')) throw new Error(`${status} for ${JSON.stringify(text.slice(0, 600))}`)
      counts.set(status, (counts.get(status) ?? 0) + 1)
    }
  }
  await Promise.all(Array.from({ length: 24 }, one))
  await stillWell()
  return counts
}

describe('the server answers or closes, stays alive, and answers the next', () => {
  test('requests as they should be, to begin with', async () => {
    const counts = await withstands(good())
    expect([...counts.keys()]).toEqual(['200'])
  })
  test.each([
    ['bent from good ones', bent, 1500],
    ['built of faulty parts', built, 2000],
    ['notes of any JSON', posted, 500],
    ['recordings of any bytes', recorded, 60],
    ['bytes at random', junk, 500],
  ] as const)(
    '%s',
    async (_, requests, count) => {
      const counts = await withstands(fc.sample(requests, { seed, numRuns: count }))
      expect([...counts.values()].reduce((a, b) => a + b, 0)).toBe(count)
      // The faults are seen as such.
      expect([...counts.keys()].filter((status) => status.startsWith('4')).length).toBeGreaterThan(0)
    },
    120_000,
  )
  test('heads that never end are ended', async () => {
    const slow = Array.from({ length: 40 }, (_, i) => good()[i % good().length]!.slice(0, 4 + (i % 30)))
    const answers = await Promise.all(slow.map((text) => talk(text, 20_000, false)))
    for (const answer of answers) expect(answer === '' || /^HTTP\/1\.1 4/.test(answer)).toBe(true)
    await stillWell()
  }, 40_000)
  test('no foreign name gets an answer with content', async () => {
    const names = [
      'Host: hives.example',
      'Host: localhost',
      'Host: localhost:1',
      'Host:',
      `Host: hives.example@${host()}`,
    ]
    for (const name of names) {
      expect(await talk(requestOf('GET /api/home HTTP/1.1', [name]))).toMatch(/^HTTP\/1\.1 4\d\d /)
      // Two of them: whichever counts, the answer must not be given to the foreign one alone.
      expect(await talk(requestOf('GET http://hives.example/api/home HTTP/1.1', [name]))).toMatch(/^HTTP\/1\.1 4\d\d /)
    }
    expect(await talk('GET /api/home HTTP/1.0\r\n\r\n')).toMatch(/^HTTP\/1\.1 4\d\d /)
  })
  test('it says nothing of it, and nothing is left lying about', () => {
    expect(server.said()).toMatch(/^Combscribe is at [^\n]+\n$/)
    expect(readdirSync(folder).filter((name) => name.startsWith('combscribe-take'))).toEqual([])
  })
})
