import { cpSync, existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { parseCorrections } from '../../src/corrections/correction.ts'
import { combscribe } from '../command.ts'
import { type Answer, ask } from './ask.ts'
import { type Serving, serving } from './serving.ts'

/** Visits from the page into a logbook that holds the demo season, and what the page is told of it. */
let folder: string
let where: string
let server: Serving

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-hand-over-'))
  where = join(folder, 'season.db')
  cpSync('fixtures/notes', join(folder, 'notes'), { recursive: true })
  const yard = join(folder, 'notes/yard.json')
  expect(combscribe(['batch', join(folder, 'notes'), '--logbook', where, '--yard', yard]).code).toBe(0)
  server = await serving(['--logbook', where, '--yard', yard])
}, 30_000)
afterAll(async () => {
  await server.stop()
  rmSync(folder, { recursive: true, force: true })
})

const json = { 'content-type': 'application/json' }
const send = (visit: unknown): Promise<Answer> =>
  ask(server, '/api/notes', {
    method: 'POST',
    headers: { ...json, origin: server.origin, 'sec-fetch-site': 'same-origin' },
    body: JSON.stringify(visit),
  })
const look = (command: string, ...args: string[]) => combscribe([command, ...args, '--logbook', where]).out

/** How many notes of a day speak of a hive. */
async function visitsOn(hive: string, day: string): Promise<number> {
  const { visits } = (await ask(server, `/api/history?hive=${hive}`)).json() as { visits: { date: string }[] }
  return visits.filter(({ date }) => date === day).length
}

const visit = {
  name: 'visit 7f3a',
  date: '2027-01-10',
  text: 'Hive two. Seven frames of brood. Saw the queen. Three beetles. Nine mites in three hundred bees.',
}

test('what the page is told at its start', async () => {
  const home = (await ask(server, '/api/home')).json() as Record<string, never>
  expect(home).toMatchObject({ version: '0.1.0', recogniser: false, logbook: true })
  expect(home.yard).toMatchObject({
    hints: { hives: [{ name: 'olive', said: ['Olive', 'all of hive'] }], words: { blotter: 'beetle trap' } },
    rules: { region: { hemisphere: 'south', country: 'AU-NSW' }, equipment: { framesPerBox: 8 } },
  })
})

describe('a visit is kept', () => {
  test('once, however often it is handed over', async () => {
    const first = await send(visit)
    expect(first.status).toBe(200)
    expect(first.json()).toMatchObject({ kept: 'new' })
    const again = await send(visit)
    expect(again.json()).toEqual({ ...(first.json() as object), kept: 'same' })
    expect(await visitsOn('2', '2027-01-10')).toBe(1)
    // Eight at once, as a page with several windows might.
    const all = await Promise.all(Array.from({ length: 8 }, () => send({ ...visit, name: 'at once' })))
    expect(all.map((answer) => (answer.json() as { kept: string }).kept).sort()).toEqual([
      'new',
      ...Array(7).fill('same'),
    ])
    expect(await visitsOn('2', '2027-01-10')).toBe(2)
  })

  test('judged with the visits before, as batch does it', async () => {
    const { findings } = (await send(visit)).json() as { findings: { rule: string; restsOn: { note: string }[] }[] }
    expect(findings.length).toBeGreaterThan(10)
    writeFileSync(join(folder, 'notes/2027-01-10 twin.txt'), visit.text)
    const twin = join(folder, 'twin.db')
    combscribe(['batch', join(folder, 'notes'), '--logbook', twin, '--yard', join(folder, 'notes/yard.json')])
    rmSync(join(folder, 'notes/2027-01-10 twin.txt'))
    expect(combscribe(['due', '--date', '2027-01-10', '--logbook', twin]).out).toBe(look('due', '--date', '2027-01-10'))
  }, 60_000)

  test('anew where its text or day has changed, in its old place', async () => {
    const changed = { ...visit, name: 'visit changed' }
    await send(changed)
    const count = look('search', 'mites').match(/visit changed/g)?.length
    const text = `${visit.text} No queen cells.`
    expect((await send({ ...changed, text })).json()).toMatchObject({ kept: 'changed' })
    expect((await send({ ...changed, text, date: '2027-01-11' })).json()).toMatchObject({ kept: 'changed' })
    expect((await send({ ...changed, text, date: '2027-01-11' })).json()).toMatchObject({ kept: 'same' })
    expect(look('search', 'mites').match(/visit changed/g)?.length).toBe(count)
    expect(look('search', 'mites')).toContain('2027-01-11  page/2027-01-11 visit changed.txt')
    expect(look('history', '2')).toMatch(/^2027-01-11 /m)
  })

  test('with its corrections, each once', async () => {
    const note = join(folder, 'alone.txt')
    const text = 'Hive one. Five frames of brood. Calm bees.'
    writeFileSync(note, text)
    const record = JSON.parse(combscribe(['read', note, '--as', 'record']).out)
    const reading = record.hives[0].readings.find(({ field }: { field: string }) => field === 'frames.brood')
    const words = { quote: reading.quote, start: reading.start, end: reading.end }
    const line = {
      ...{ id: 'c-1', at: '2027-01-12T09:00:00Z', who: 'keeper', kind: 'value', value: 7 },
      readings: [
        {
          pointer: '',
          field: 'frames.brood',
          value: 5,
          place: { hive: '1', box: null, frame: null, side: null },
          words,
        },
      ],
    }
    const corrections = parseCorrections(JSON.stringify(line), 'here')
    const corrected = { name: 'visit corrected', date: '2027-01-12', text }
    expect((await send(corrected)).json()).toMatchObject({ kept: 'new' })
    expect(look('history', '1')).toMatch(/^2027-01-12 {2}frames of brood 5/m)
    expect((await send({ ...corrected, corrections })).json()).toMatchObject({ kept: 'changed' })
    expect((await send({ ...corrected, corrections })).json()).toMatchObject({ kept: 'same' })
    expect(look('history', '1')).toMatch(/^2027-01-12 {2}frames of brood 7/m)
  })

  test('and read anew without losing its day', async () => {
    await send(visit)
    const before = look('history', '2')
    look('reread', '--yard', join(folder, 'notes/yard.json'))
    expect(look('history', '2')).toBe(before)
  }, 120_000)

  test('and not a second time when batch already found it as a file', async () => {
    const path = join(folder, 'notes/2027-02-01.txt')
    const text = 'Hive one. Four frames of honey. No beetles at all today.'
    writeFileSync(path, text)
    look('batch', join(folder, 'notes'))
    expect((await send({ name: 'as file', date: '2027-02-01', text })).json()).toMatchObject({ kept: 'same' })
    expect(await visitsOn('1', '2027-02-01')).toBe(1)
  })
})

describe('what is told of the logbook', () => {
  test('hives, and the visits of one as numbers with what is known of their error', async () => {
    await send(visit)
    const { hives } = (await ask(server, '/api/history')).json() as { hives: { hive: string; notes: number }[] }
    expect(hives.map(({ hive }) => hive)).toEqual(['1', '2', 'nuc', 'olive'])
    const { hive, visits } = (await ask(server, '/api/history?hive=Hive%202')).json() as {
      hive: string
      visits: { date: string; note: string; values: Record<string, object> }[]
    }
    expect(hive).toBe('2')
    expect(visits.map(({ date }) => date)).toEqual(visits.map(({ date }) => date).sort())
    const last = visits.find(({ note }) => note === '2027-01-10 visit 7f3a')
    expect(last?.values).toMatchObject({
      'frames.brood': { value: 7, unit: 'frames' },
      'pest.smallHiveBeetle.count': { value: 3 },
      // 9 in 300: R's prop.test(9, 300, correct = FALSE) gives 0.0159 to 0.0560.
      'mites.perHundred': { value: 3, low: 1.6, high: 5.6, unit: 'perHundred' },
    })
  })
  test('a hive that no note speaks of', async () => {
    const answer = await ask(server, '/api/history?hive=walnut')
    expect(answer.status).toBe(404)
    expect(answer.json()).toEqual({ error: 'No visit to this hive is in the logbook.' })
  })
  test('what is due, as the command says it', async () => {
    const { today, due } = (await ask(server, '/api/due?date=2026-12-21')).json() as {
      today: string
      due: { day: string | null; hive: string; what: string; date: string }[]
    }
    expect(today).toBe('2026-12-21')
    const lines = look('due', '--date', '2026-12-21').trimEnd().split('\n')
    expect(due.length).toBe(lines.length)
    for (const [i, { hive, what, date }] of due.entries()) {
      expect(lines[i]).toContain(`${hive}: ${what} (`)
      expect(lines[i]).toContain(`visit of ${date}`)
    }
    expect((await ask(server, '/api/due')).status).toBe(200)
    expect((await ask(server, '/api/due?date=2026-02-30')).status).toBe(400)
  })
})

describe('what is refused', () => {
  const post = (body: string | Uint8Array, headers: Record<string, string> = json, method = 'POST') =>
    ask(server, '/api/notes', { method, headers, body })
  test.each([
    ['no JSON', '{"name"'],
    ['a list', '[]'],
    ['null', 'null'],
    ['no text', JSON.stringify({ ...visit, text: '' })],
    ['a number as text', JSON.stringify({ ...visit, text: 5 })],
    ['a day that the calendar lacks', JSON.stringify({ ...visit, date: '2027-02-30' })],
    ['a path as name', JSON.stringify({ ...visit, name: '../../etc/passwd' })],
    ['a long name', JSON.stringify({ ...visit, name: 'n'.repeat(200) })],
    ['a line break in the name', JSON.stringify({ ...visit, name: 'a\nb' })],
    ['something unknown', JSON.stringify({ ...visit, path: '/tmp/x' })],
    ['a correction that is none', JSON.stringify({ ...visit, corrections: [{ kind: 'value' }] })],
  ])('%s', async (_, body) => {
    const before = look('history')
    const answer = await post(body)
    expect(answer.status).toBe(400)
    expect(answer.json()).toEqual({ error: expect.stringMatching(/^The request does not fit [^\n]+\.$/) })
    expect(look('history')).toBe(before)
  })
  test('a note that is no speech is one sentence', async () => {
    const answer = await post(JSON.stringify({ ...visit, name: 'nothing', text: '  \n ' }))
    expect(answer.status).toBe(422)
    expect(answer.json()).toEqual({ error: expect.stringMatching(/^[^\n]+\.$/) })
  })
  test.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', ''])(
    'the content type "%s", which a foreign form could send',
    async (type) => {
      expect((await post(JSON.stringify(visit), type ? { 'content-type': type } : {})).status).toBe(415)
    },
  )
  test('a visit from a foreign page', async () => {
    const foreign = { ...json, origin: 'https://hives.example' }
    expect((await post(JSON.stringify({ ...visit, name: 'foreign' }), foreign)).status).toBe(403)
    expect(look('search', 'mites')).not.toContain('foreign')
  })
  test('more than 1 MB, told by its head alone', async () => {
    const long = { ...json, 'content-length': '1000001' }
    expect((await post('{', long)).status).toBe(413)
    expect((await post(JSON.stringify({ ...visit, text: 'bees '.repeat(210_000) }))).status).toBe(413)
  })
  test('a body of unknown length', async () => {
    expect((await post(JSON.stringify(visit), { ...json, 'transfer-encoding': 'chunked' })).status).toBe(411)
  })
  test.each(['GET', 'PUT', 'DELETE'])('%s', async (method) => {
    const answer = await ask(server, '/api/notes', { method })
    expect(answer.status).toBe(405)
    expect(answer.headers.allow).toContain('POST')
  })
  test('recordings, without a recogniser', async () => {
    const answer = await ask(server, '/api/transcripts', {
      method: 'POST',
      headers: { 'content-type': 'audio/wav' },
      body: 'RIFF',
    })
    expect(answer.status).toBe(404)
    expect(answer.json()).toEqual({ error: 'No recogniser is configured; name one in the yard file.' })
  })
})

describe('without a logbook', () => {
  test('it says so, and makes none', async () => {
    const empty = mkdtempSync(join(folder, 'empty-'))
    const own = await serving([], { cwd: empty })
    try {
      for (const path of ['/api/history', '/api/history?hive=1', '/api/due']) {
        const answer = await ask(own, path)
        expect(answer.status).toBe(404)
        expect(answer.json()).toEqual({ error: 'There is no logbook; start combscribe serve with --logbook.' })
      }
      const body = JSON.stringify(visit)
      expect((await ask(own, '/api/notes', { method: 'POST', headers: json, body })).status).toBe(404)
      expect((await ask(own, '/api/home')).json()).toMatchObject({ logbook: false, yard: null })
    } finally {
      await own.stop()
    }
    expect(existsSync(join(empty, 'combscribe.db'))).toBe(false)
  })
  test('the usual one is used where it lies', async () => {
    const own = await serving([], { cwd: folder })
    await own.stop()
    cpSync(where, join(folder, 'combscribe.db'))
    const other = await serving([], { cwd: folder })
    expect((await ask(other, '/api/home')).json()).toMatchObject({ logbook: true })
    await other.stop()
  })
  test('a file that is none is one sentence', () => {
    const { code, err } = combscribe(['serve', '--port', '0', '--logbook', 'README.md'])
    expect([code, err]).toEqual([2, expect.stringMatching(/^combscribe: README\.md: [^\n]+\.\n$/)])
  })
})

test('nothing that was said is printed', () => {
  expect(server.said().trim().split('\n')).toHaveLength(1)
})
