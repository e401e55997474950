import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { has } from '../command.ts'
import { type Serving, serving } from '../server/serving.ts'
import { lacking, openPhone, type Phone, shown } from './phone.ts'

const canSpeak = has('flite') && has('pocketsphinx_continuous') && existsSync('/usr/share/pocketsphinx/model/en-us')
const canRun = canSpeak && lacking() === undefined

/** Real sound all the way: flite speaks into the browser's microphone, pocketsphinx of Debian listens at home. */
describe.skipIf(!canRun && process.env.CI !== 'true')(
  'speaking without the browser’s recogniser',
  {
    timeout: 90_000,
  },
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'combscribe-sound-'))
    let home: Serving
    let phone: Phone
    const words = (): Promise<string> => shown(phone.page.locator('.answers'))

    beforeAll(async () => {
      const [voice, speech, yard] = ['voice.wav', 'speech.wav', 'yard.json'].map((name) => join(folder, name))
      const said = 'hive two. six frames of brood. the bees are calm.'
      expect(spawnSync('flite', ['-voice', 'slt', '-t', said, '-o', voice!]).status).toBe(0)
      // The browser plays the file over and over: a pause ends every round.
      writeFileSync(
        yard!,
        JSON.stringify({ recogniser: ['pocketsphinx_continuous', '-infile', '{audio}', '-logfn', '/dev/null'] }),
      )
      expect(spawnSync('sox', [voice!, '-r', '48000', '-c', '2', speech!, 'pad', '0.5', '2.5']).status).toBe(0)
      home = await serving(['--yard', yard!])
      phone = await openPhone({
        flags: [
          '--use-fake-device-for-media-stream',
          '--use-fake-ui-for-media-stream',
          `--use-file-for-fake-audio-capture=${speech}`,
        ],
      })
      await phone.page.goto(home.origin)
      await phone.page.evaluate(() => navigator.serviceWorker.ready)
    }, 90_000)
    afterAll(async () => {
      await phone?.close()
      await home?.stop()
      rmSync(folder, { recursive: true, force: true })
    })

    test('what is spoken is recorded, written down at home and answered', async () => {
      const { page } = phone
      await page.getByRole('button', { name: 'Start' }).click()
      await page
        .getByRole('dialog')
        .getByRole('button', { name: /^Record here/ })
        .click()
      await expect.poll(words, { timeout: 60_000 }).toMatch(/six frames/)
      await page.getByRole('button', { name: 'Stop' }).click()
      await page.getByRole('button', { name: 'Start' }).waitFor()
    })

    test('out of reach of home the recordings wait, outlive a reload, and are written down later', async () => {
      const { page } = phone
      await phone.context.setOffline(true)
      await page.getByRole('button', { name: 'Start' }).click()
      await expect.poll(() => shown(page.locator('.controls')), { timeout: 60_000 }).toMatch(/wait.* for a recogniser/)
      await page.getByRole('button', { name: 'Stop' }).click()
      await page.reload()
      await expect.poll(() => shown(page.locator('.controls'))).toMatch(/wait.* for a recogniser/)
      const before = Number(/(\d+) said/.exec(await shown(page.locator('.head')))?.[1])
      await phone.context.setOffline(false)
      await page.evaluate(() => dispatchEvent(new Event('online')))
      await expect.poll(() => shown(page.locator('.controls')), { timeout: 60_000 }).not.toMatch(/wait/)
      await expect
        .poll(async () => Number(/(\d+) said/.exec(await shown(page.locator('.head')))?.[1]))
        .toBeGreaterThan(before)
    })
  },
)
