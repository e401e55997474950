import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { has, mayBeMissing } from '../command.ts'
import { type Answer, ask } from './ask.ts'
import { type Serving, serving } from './serving.ts'

/** Recordings that the page sends: real speech to a real recogniser, and everything that can be wrong with them. */
const canSpeak = has('flite') && has('pocketsphinx_continuous') && existsSync('/usr/share/pocketsphinx/model/en-us')
const speech = describe.skipIf(!canSpeak && mayBeMissing)
let folder: string
/** Where the command makes its temporary folders: nothing may stay there. */
let temporary: string

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-recordings-'))
  temporary = join(folder, 'tmp')
  mkdirSync(temporary)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

function yardWith(recogniser: string[]): string {
  const path = join(folder, `yard-${readdirSync(folder).length}.json`)
  writeFileSync(path, JSON.stringify({ recogniser }))
  return path
}
/** A recogniser of a few words of Node, which runs as a process of its own like any other. */
const scripted = (script: string): string[] => [process.execPath, '-e', script, '{audio}']
const served = (recogniser: string[]): Promise<Serving> =>
  serving(['--yard', yardWith(recogniser)], { env: { TMPDIR: temporary } })
const send = (server: Serving, body: Uint8Array | string, type = 'audio/wav'): Promise<Answer> =>
  ask(server, '/api/transcripts', { method: 'POST', headers: { 'content-type': type, origin: server.origin }, body })

/** One second of silence, 16 kHz, 16 bit, one channel. */
function silence(): Buffer {
  const head = Buffer.alloc(44)
  head.write('RIFF', 0)
  head.writeUInt32LE(36 + 32_000, 4)
  head.write('WAVEfmt ', 8)
  head.writeUInt32LE(16, 16)
  head.writeUInt16LE(1, 20)
  head.writeUInt16LE(1, 22)
  head.writeUInt32LE(16_000, 24)
  head.writeUInt32LE(32_000, 28)
  head.writeUInt16LE(2, 32)
  head.writeUInt16LE(16, 34)
  head.write('data', 36)
  head.writeUInt32LE(32_000, 40)
  return Buffer.concat([head, Buffer.alloc(32_000)])
}
const isThere = async (path: string): Promise<boolean> => {
  for (let i = 0; i < 100; i++) {
    if (existsSync(path)) return true
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  return false
}

speech('spoken by flite, heard by pocketsphinx', () => {
  test('comes back as text, and leaves nothing behind', async () => {
    const path = join(folder, 'spoken.wav')
    expect(spawnSync('flite', ['-voice', 'slt', '-t', 'Six frames of honey. No queen cells.', '-o', path]).status).toBe(
      0,
    )
    const server = await served(['pocketsphinx_continuous', '-infile', '{audio}', '-logfn', '/dev/null'])
    try {
      expect((await ask(server, '/api/home')).json()).toMatchObject({ recogniser: true })
      const answer = await send(server, readFileSync(path))
      expect(answer.status).toBe(200)
      expect((answer.json() as { transcript: string }).transcript).toContain('six frames of honey')
      // The recogniser's command line is nobody's business.
      expect((await ask(server, '/api/home')).text).not.toContain('pocketsphinx')
      expect(server.said()).not.toContain('honey')
    } finally {
      await server.stop()
    }
    expect(readdirSync(temporary)).toEqual([])
  }, 60_000)
})

describe('a recogniser that', () => {
  const whisper = JSON.stringify({
    text: ' Two frames.',
    segments: [
      {
        ...{ id: 0, start: 0, end: 1.2, text: ' Two frames.', tokens: [], temperature: 0, avg_logprob: -0.2 },
        ...{ compression_ratio: 1, no_speech_prob: 0, seek: 0 },
        words: [
          { word: ' Two', start: 0.1, end: 0.5, probability: 0.9 },
          { word: ' frames.', start: 0.5, end: 1.1, probability: 0.8 },
        ],
      },
    ],
    language: 'en',
  })
  test('tells words with times: they come along', async () => {
    const server = await served(scripted(`process.stdout.write(${JSON.stringify(whisper)})`))
    const { transcript, words } = (await send(server, silence())).json() as {
      transcript: string
      words: { start: number; end: number; at: number; confidence: number }[]
    }
    await server.stop()
    expect(words.map(({ start, end }) => transcript.slice(start, end))).toEqual(['Two', 'frames'])
    expect(words[1]).toMatchObject({ at: 0.5, until: 1.1, confidence: 0.8 })
  })
  test('sees the recording in a folder that only this user may enter', async () => {
    const look = `const fs=require('fs');const p=process.argv[1];
      console.log([fs.statSync(p).size, (fs.statSync(p).mode&0o777).toString(8), (fs.statSync(require('path').dirname(p)).mode&0o777).toString(8)].join(' '))`
    const server = await served(scripted(look))
    expect((await send(server, silence())).json()).toMatchObject({
      transcript: expect.stringContaining('32044 600 700'),
    })
    await server.stop()
    expect(readdirSync(temporary)).toEqual([])
  })
  test.each([
    ['fails', scripted('console.error("no model"); process.exit(3)'), /failed with 3 \(no model\)/],
    ['is not there', ['no-such-recogniser', '{audio}'], /"no-such-recogniser" does not start/],
  ])('%s is one sentence', async (_, recogniser, sentence) => {
    const server = await served(recogniser)
    const answer = await send(server, silence())
    expect(answer.status).toBe(422)
    const { error } = answer.json() as { error: string }
    expect(error).toMatch(/^the recording: [^\n]+\.$/)
    expect(error).toMatch(sentence)
    expect(error).not.toContain(temporary)
    await server.stop()
    expect(readdirSync(temporary)).toEqual([])
  })
  test.each(['', ' \\n'])('prints "%s" heard nothing, which is no fault', async (printed) => {
    const server = await served(scripted(`process.stdout.write('${printed}')`))
    const answer = await send(server, silence())
    await server.stop()
    expect(answer.status).toBe(200)
    expect(answer.json()).toEqual({ transcript: '' })
  })
  test('is given up when the page goes away', async () => {
    const started = join(folder, 'started')
    const server = await served(
      scripted(
        `require('fs').writeFileSync(${JSON.stringify(started)}, String(process.pid)); setInterval(()=>{}, 1000)`,
      ),
    )
    const body = silence()
    const socket = connect(server.port, '127.0.0.1')
    socket.write(
      `POST /api/transcripts HTTP/1.1\r\nHost: localhost:${server.port}\r\nContent-Type: audio/wav\r\nContent-Length: ${body.length}\r\n\r\n`,
    )
    socket.write(body)
    expect(await isThere(started)).toBe(true)
    const pid = Number(readFileSync(started, 'utf8'))
    socket.destroy()
    for (let i = 0; i < 100 && isRunning(pid); i++) await new Promise((resolve) => setTimeout(resolve, 50))
    expect(isRunning(pid)).toBe(false)
    expect((await ask(server, '/api/home')).status).toBe(200)
    await server.stop()
    expect(readdirSync(temporary)).toEqual([])
    expect(server.said().trim().split('\n')).toHaveLength(1)
  })
  test('still runs at Ctrl-C: it is ended and nothing stays', async () => {
    const started = join(folder, 'started-late')
    const server = await served(
      scripted(
        `require('fs').writeFileSync(${JSON.stringify(started)}, String(process.pid)); setInterval(()=>{}, 1000)`,
      ),
    )
    const answer = send(server, silence()).catch(() => undefined)
    expect(await isThere(started)).toBe(true)
    expect(await server.stop()).toBe(0)
    await answer
    expect(isRunning(Number(readFileSync(started, 'utf8')))).toBe(false)
    expect(readdirSync(temporary)).toEqual([])
  })
  test('is busy: large recordings are taken in at once and wait here, not half sent', async () => {
    const go = join(folder, 'go')
    const server = await served(
      scripted(
        `const fs=require('fs');const t=setInterval(()=>{if(fs.existsSync(${JSON.stringify(go)})){clearInterval(t);console.log('two frames of brood')}},20)`,
      ),
    )
    const large = Buffer.concat([silence(), Buffer.alloc(8_000_000)])
    const all = Promise.all([1, 2, 3].map(() => send(server, large)))
    const taken = (): number[] =>
      readdirSync(temporary)
        .map((name) => join(temporary, name, 'take.wav'))
        .map((path) => (existsSync(path) ? statSync(path).size : 0))
    await expect.poll(taken, { timeout: 10_000 }).toEqual([large.length, large.length, large.length])
    writeFileSync(go, '')
    expect((await all).map(({ status }) => status)).toEqual([200, 200, 200])
    await server.stop()
  })
  test('is slow: one recording at a time, a few wait, the rest are told to come again', async () => {
    const log = join(folder, 'runs')
    const server = await served(
      scripted(
        `const fs=require('fs');fs.appendFileSync(${JSON.stringify(log)},'<');setTimeout(()=>{fs.appendFileSync(${JSON.stringify(log)},'>');console.log('two frames of brood')},400)`,
      ),
    )
    const all = await Promise.all(Array.from({ length: 8 }, () => send(server, silence())))
    await server.stop()
    expect(all.map(({ status }) => status).sort()).toEqual([200, 200, 200, 200, 200, 429, 429, 429])
    expect(all.find(({ status }) => status === 429)?.headers['retry-after']).toBe('10')
    expect(readFileSync(log, 'utf8')).toBe('<>'.repeat(5))
  })
})

const isRunning = (pid: number): boolean => {
  try {
    process.kill(pid, 0)
    return true
  } catch {
    return false
  }
}

describe('a recording that', () => {
  let server: Serving
  beforeAll(async () => {
    server = await served(scripted('console.log("two frames of brood")'))
  })
  afterAll(() => server.stop())

  test.each(['audio/x-wav', 'audio/wave', 'Audio/WAV; rate=16000'])('is said to be %s is taken', async (type) => {
    expect((await send(server, silence(), type)).status).toBe(200)
  })
  test.each(['audio/webm', 'text/plain', 'application/octet-stream', 'multipart/form-data; boundary=x'])(
    'is said to be %s is refused',
    async (type) => {
      expect((await send(server, silence(), type)).status).toBe(415)
    },
  )
  test.each([
    ['is none', Buffer.from('not a recording at all')],
    ['is empty', Buffer.alloc(0)],
    ['is another RIFF', Buffer.from('RIFF\0\0\0\0AVI LIST')],
  ])('%s is one sentence', async (_, body) => {
    const answer = await send(server, body)
    expect([400, 422]).toContain(answer.status)
    expect(answer.json()).toEqual({ error: expect.stringMatching(/^[^\n]+\.$/) })
  })
  test('is larger than 64 MB is refused by its head', async () => {
    const headers = { 'content-type': 'audio/wav', 'content-length': '64000001' }
    const answer = await ask(server, '/api/transcripts', { method: 'POST', headers, body: 'RIFF' })
    expect(answer.status).toBe(413)
    expect(answer.json()).toEqual({ error: 'This is more than 64 MB.' })
  })
  test('breaks off leaves nothing', async () => {
    const socket = connect(server.port, '127.0.0.1')
    socket.write(
      `POST /api/transcripts HTTP/1.1\r\nHost: localhost:${server.port}\r\nContent-Type: audio/wav\r\nContent-Length: 32044\r\n\r\nRIFF`,
    )
    await new Promise((resolve) => setTimeout(resolve, 300))
    socket.destroy()
    await new Promise((resolve) => setTimeout(resolve, 300))
    expect(readdirSync(temporary)).toEqual([])
    expect((await send(server, silence())).status).toBe(200)
  })
})
