import { connect } from 'node:net'
import { networkInterfaces } from 'node:os'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { combscribe } from '../command.ts'
import { ask } from './ask.ts'
import { type Serving, serving } from './serving.ts'

/** Who may ask, and from where. */
let server: Serving
beforeAll(async () => {
  server = await serving()
})
afterAll(() => server.stop())

const home = (headers: Record<string, string>) => ask(server, '/api/home', { headers })

describe('loopback only', () => {
  test('says so in one line', () => {
    expect(server.said()).toBe(
      `Combscribe is at http://localhost:${server.port}/ on this machine only; Ctrl-C ends it.\n`,
    )
  })
  test('both loopback addresses answer', async () => {
    expect((await ask(server, '/api/home', { address: '127.0.0.1' })).status).toBe(200)
    const six = Object.values(networkInterfaces()).some((list) => list?.some(({ address }) => address === '::1'))
    if (six) expect((await ask(server, '/api/home', { address: '::1' })).status).toBe(200)
  })
  const others = Object.values(networkInterfaces()).flatMap(
    (list) => list?.filter(({ internal, family }) => !internal && family === 'IPv4') ?? [],
  )
  test.skipIf(others.length === 0)('no other address does', async () => {
    const code = await new Promise((resolve) => {
      const socket = connect(server.port, others[0]!.address)
      socket.on('connect', () => resolve('connected'))
      socket.on('error', (error: NodeJS.ErrnoException) => resolve(error.code))
    })
    expect(code).toBe('ECONNREFUSED')
  })
  test('a port in use is one sentence', () => {
    const { code, err, out } = combscribe(['serve', '--port', String(server.port)])
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toBe(`combscribe: ${server.port}: another program uses this port; choose another with --port.\n`)
  })
  test.each(['0x50', '70000', '-1', 'web'])('--port %s is wrong use', (port) => {
    expect(combscribe(['serve', `--port=${port}`])).toMatchObject({ code: 2, out: '' })
  })
})

describe('Host, Origin and Sec-Fetch-Site', () => {
  test.each(['hives.example', 'localhost', 'localhost:1', '127.0.0.1.hives.example', '192.168.1.4:4418'])(
    'host "%s" is refused',
    async (host) => {
      const answer = await home({ host })
      expect([400, 421]).toContain(answer.status)
      expect(answer.text).not.toContain('version')
    },
  )
  test('a whole address in the request line does not get around it', async () => {
    expect((await ask(server, 'http://hives.example/api/home')).status).not.toBe(200)
  })
  test.each(['https://hives.example', 'null', 'http://localhost', 'http://localhost:1', 'http://hives.example:4418'])(
    'origin %s is refused',
    async (origin) => {
      expect(await home({ origin })).toMatchObject({ status: 403 })
    },
  )
  test('the page of another loopback name is another origin', async () => {
    expect((await home({ origin: `http://127.0.0.1:${server.port}` })).status).toBe(403)
    expect((await home({ origin: `https://localhost:${server.port}` })).status).toBe(403)
  })
  test.each(['cross-site', 'same-site'])('a %s request is refused', async (site) => {
    expect((await home({ 'sec-fetch-site': site })).status).toBe(403)
    const asDocument = { 'sec-fetch-site': site, 'sec-fetch-mode': 'navigate', 'sec-fetch-dest': 'document' }
    expect((await home(asDocument)).status).toBe(403)
    // A link to the page may be followed; it cannot be put into a frame.
    expect((await ask(server, '/', { headers: asDocument })).status).toBe(200)
    expect((await ask(server, '/', { headers: { ...asDocument, 'sec-fetch-dest': 'iframe' } })).status).toBe(403)
    expect((await ask(server, '/app.js', { headers: { 'sec-fetch-site': site } })).status).toBe(403)
  })
  test('its own page is heard, and what is no browser', async () => {
    const own = { origin: server.origin, 'sec-fetch-site': 'same-origin' }
    expect((await home(own)).status).toBe(200)
    expect((await home({})).status).toBe(200)
    expect((await home({ host: `127.0.0.1:${server.port}` })).status).toBe(200)
    expect((await home({ host: `[::1]:${server.port}` })).status).toBe(200)
  })
})

test('the page has one address, where what it keeps is found again', async () => {
  for (const host of [`127.0.0.1:${server.port}`, `[::1]:${server.port}`]) {
    const answer = await ask(server, '/', { headers: { host } })
    expect(answer.status).toBe(302)
    expect(answer.headers.location).toBe(`${server.origin}/`)
  }
  expect((await ask(server, '/')).text).toContain('<title>Combscribe</title>')
})

describe('every answer', () => {
  test.each(['/', '/app.js', '/api/home', '/nothing'])('%s keeps the browser strict', async (path) => {
    const { headers } = await ask(server, path)
    expect(headers).toMatchObject({
      'content-security-policy':
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; media-src 'self' blob:; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
      'permissions-policy': expect.stringContaining('microphone=(self)'),
    })
    expect(headers).not.toHaveProperty('access-control-allow-origin')
    expect(headers).not.toHaveProperty('x-powered-by')
  })
  test.each([
    '/../package.json',
    '/..%2fpackage.json',
    '/%2e%2e/package.json',
    '/icons/../../cli.js',
    '/icons/..%5c..%5ccli.js',
    '//etc/passwd',
    '/parts/%00',
    '/%',
    '/.%2e/cli.js',
  ])('%s leads nowhere', async (path) => {
    const { status, text } = await ask(server, path)
    expect([400, 404]).toContain(status)
    expect(text).not.toMatch(/"dependencies"|root:|import/)
  })
  test.each(['POST', 'PUT', 'DELETE', 'PATCH', 'OPTIONS', 'TRACE'])('%s on the page is refused', async (method) => {
    expect((await ask(server, '/', { method })).status).toBe(405)
  })
})

test('Ctrl-C ends it cleanly', async () => {
  const own = await serving()
  expect((await ask(own, '/')).status).toBe(200)
  expect(await own.stop()).toBe(0)
  expect(own.said().trim().split('\n').length).toBe(1)
})
