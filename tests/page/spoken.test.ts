import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { combscribe, has, mayBeMissing } from '../command.ts'
import { type Serving, serving } from '../server/serving.ts'
import { lacking, openPhone, type Phone, shown } from './phone.ts'

/**
 * Real sound all the way: flite speaks into the browser's microphone, the page records and cuts at the pauses, the server
 * has Debian's pocketsphinx write it down, and the page reads it.
 */
const missing =
  lacking() ??
  ['flite', 'sox', 'pocketsphinx_continuous'].find((program) => !has(program)) ??
  (existsSync('/usr/share/pocketsphinx/model/en-us') ? undefined : 'pocketsphinx-en-us')

describe.skipIf(missing !== undefined && mayBeMissing)('a visit spoken aloud', { timeout: 150_000 }, () => {
  const folder = mkdtempSync(join(tmpdir(), 'combscribe-spoken-'))
  const logbook = join(folder, 'log.db')
  const asked: { url: string; type: string | undefined }[] = []
  const faults: string[] = []
  let home: Serving
  let phone: Phone

  const run = (program: string, ...args: string[]): string => {
    const { status, stdout } = spawnSync(program, args, { encoding: 'utf8' })
    expect(status, `${program} ${args.join(' ')}`).toBe(0)
    return stdout.trim()
  }

  /** One recording with pauses between the sentences, over a faint rustle as every microphone has it. */
  function spoken(sentences: readonly string[]): string {
    const form = ['-r', '48000', '-c', '1', '-b', '16']
    const parts = sentences.map((sentence, i) => {
      const [said, padded] = [join(folder, `said-${i}.wav`), join(folder, `padded-${i}.wav`)]
      run('flite', '-voice', 'slt', '-t', sentence, '-o', said)
      run('sox', '-D', said, ...form, padded, 'pad', i === 0 ? '3.5' : '1.5', '2')
      return padded
    })
    const [words, rustle, all] = ['words.wav', 'rustle.wav', 'all.wav'].map((name) => join(folder, name))
    run('sox', '-D', ...parts, words!)
    run('sox', '-R', '-n', ...form, rustle!, 'synth', run('soxi', '-D', words!), 'pinknoise', 'vol', '0.01')
    run('sox', '-D', '-m', '-v', '1', words!, '-v', '1', rustle!, '-b', '16', all!)
    return all!
  }

  beforeAll(async () => {
    const yard = join(folder, 'yard.json')
    const recogniser = ['pocketsphinx_continuous', '-infile', '{audio}', '-logfn', '/dev/null']
    writeFileSync(yard, JSON.stringify({ recogniser }))
    home = await serving(['--yard', yard, '--logbook', logbook], { env: { TMPDIR: folder } })
    const microphone = spoken(['Six frames of honey.', 'Three queen cells.', 'Two frames of honey.'])
    phone = await openPhone({
      flags: [
        '--use-fake-device-for-media-stream',
        '--use-fake-ui-for-media-stream',
        `--use-file-for-fake-audio-capture=${microphone}%noloop`,
      ],
    })
    phone.context.on('request', (request) =>
      asked.push({ url: request.url(), type: request.headers()['content-type'] }),
    )
    phone.page.on('pageerror', (error) => faults.push(error.message))
    await phone.page.goto(home.origin)
  }, 60_000)

  afterAll(async () => {
    await phone?.close()
    await home?.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  test('is understood sentence by sentence, each in its turn', async () => {
    const { page } = phone
    await page.getByRole('button', { name: 'Start' }).click()
    await page
      .getByRole('dialog', { name: 'How shall this page hear you?' })
      .getByRole('button', { name: /^Record here/ })
      .click()
    await page.getByRole('button', { name: 'Stop' }).waitFor()
    const answers = (): Promise<string> => shown(page.locator('.answers'))
    const patience = { timeout: 60_000 }
    await expect.poll(answers, patience).toMatch(/frames of honey 6/)
    await expect.poll(answers, patience).toMatch(/queen cells, number 3/)
    await expect.poll(answers, patience).toMatch(/frames of honey 2[\s\S]*frames of honey 6/)
    await page.getByRole('button', { name: 'Stop' }).click()
    await expect.poll(() => shown(page.locator('.controls')), patience).not.toMatch(/recording/)
  })

  test('went to the server at home as WAV, and nowhere else', () => {
    expect(asked.filter(({ url }) => !url.startsWith(`${home.origin}/`))).toEqual([])
    const sent = asked.filter(({ url }) => url.endsWith('/api/transcripts'))
    expect(sent.length).toBeGreaterThanOrEqual(3)
    expect(new Set(sent.map(({ type }) => type))).toEqual(new Set(['audio/wav']))
    expect(readdirSync(folder).filter((name) => name.startsWith('combscribe-take'))).toEqual([])
    expect(home.said()).not.toMatch(/honey|cells/)
    expect(faults).toEqual([])
  })

  test('is in the logbook after it is handed over', async () => {
    const { page } = phone
    await page.getByRole('link', { name: 'Visits' }).click()
    const button = page.getByRole('button', { name: 'Hand over to the logbook' })
    await expect.poll(() => button.isEnabled(), { timeout: 15_000 }).toBe(true)
    await button.click()
    await expect.poll(() => shown(page.locator('.told')), { timeout: 30_000 }).toMatch(/^One visit is in the logbook/)
    const { out } = combscribe(['history', '--logbook', logbook])
    expect(out).toMatch(/ 1 visit\b/)
    expect(combscribe(['search', 'honey', '--logbook', logbook]).out).toMatch(/six frames of \*honey\*/)
  })
})
