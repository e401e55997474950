import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type Serving, serving } from '../server/serving.ts'
import { lacking, openPhone, type Phone, shown, speak } from './phone.ts'

describe.skipIf(lacking() !== undefined && process.env.CI !== 'true')(
  'without a microphone, and when things break',
  {
    timeout: 60_000,
  },
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'combscribe-bring-'))
    let home: Serving
    let phone: Phone

    const type = async (words: string): Promise<void> => {
      await phone.page.getByRole('button', { name: 'Type or open' }).click()
      await phone.page.getByLabel('A sentence, or a whole transcript').fill(words)
    }
    const open = async (path: string): Promise<void> => {
      await phone.page.getByRole('button', { name: 'Type or open' }).click()
      await phone.page.locator('dialog input[type=file]').setInputFiles(path)
    }
    const go = (name: string): Promise<void> => phone.page.getByRole('link', { name }).click()

    beforeAll(async () => {
      home = await serving()
      phone = await openPhone()
      await phone.page.goto(home.origin)
      await phone.page.getByRole('button', { name: 'Start' }).waitFor()
    }, 60_000)
    afterAll(async () => {
      await phone?.close()
      await home?.stop()
      rmSync(folder, { recursive: true, force: true })
    })

    test('a typed sentence is heard like a spoken one', async () => {
      await type('hive four, five frames of brood')
      await phone.page.getByRole('button', { name: 'Say it' }).click()
      await expect.poll(() => shown(phone.page.locator('.latest'))).toMatch(/frames of brood 5/)
      expect(await shown(phone.page.locator('.cell-hive dd'))).toBe('4')
    })

    test('a question to the program is answered and is no note', async () => {
      await type('where are we')
      await phone.page.getByRole('button', { name: 'Say it' }).click()
      await expect.poll(() => shown(phone.page.locator('.latest'))).toMatch(/^hive 4/)
    })

    test('subtitles of a whole visit become a visit of their own, on the day in their name', async () => {
      await open('fixtures/notes/2026-10-11-paddock.srt')
      await expect.poll(() => shown(phone.page.locator('.head'))).toMatch(/^Sun 11 Oct 2026\s+transcript/)
      await go('Words')
      await expect.poll(() => phone.page.locator('.transcript li').count()).toBeGreaterThan(10)
      await go('Next')
      await expect.poll(() => shown(phone.page.locator('main'))).toMatch(/Do first/)
      await go('Speak')
    })

    test('a file that is no transcript is refused in one sentence, and nothing is lost', async () => {
      const path = join(folder, 'broken.json')
      writeFileSync(path, '{"menu": ["soup", "bread"]}')
      await open(path)
      await expect
        .poll(() => shown(phone.page.getByRole('dialog').getByRole('alert')))
        .toMatch(/broken\.json: .*no shape/)
      await phone.page.getByRole('button', { name: 'Close' }).click()
      expect(await shown(phone.page.locator('.head'))).toMatch(/transcript/)
    })

    test('speech after a transcript begins a visit of its own', async () => {
      const { page } = phone
      await page.getByRole('button', { name: 'Start' }).click()
      await page.getByRole('button', { name: /^This browser’s recognition/ }).click()
      await speak(page, 'hive nine, calm bees')
      await expect.poll(() => shown(page.locator('.head'))).toMatch(/1 said/)
      await page.getByRole('button', { name: 'Stop' }).click()
    })

    test('a recogniser that takes phrases is told the trade’s and the yard’s', async () => {
      const { page } = phone
      await go('Visits')
      const yard = join(folder, 'yard.json')
      writeFileSync(yard, '{ "hives": [{ "label": "olive", "said": ["all of hive"] }] }')
      await page.locator('input[type=file]').setInputFiles(yard)
      await expect.poll(() => shown(page.locator('.visits-screen'))).toMatch(/A yard file is in use/)
      await go('Speak')
      await page.getByRole('button', { name: 'Start' }).click()
      await speak(page, 'all of hive, calm bees')
      await expect.poll(() => shown(page.locator('.cell-hive dd'))).toBe('olive')
      const phrases = await page.evaluate(() =>
        (globalThis as unknown as { speechForTests: { phrases(): string[] } }).speechForTests.phrases(),
      )
      expect(phrases).toEqual(expect.arrayContaining(['olive', 'all of hive', 'queen cells', 'supersedure']))
      await page.getByRole('button', { name: 'Stop' }).click()
    })

    test('a value that was missed is added to its line', async () => {
      const { page } = phone
      await go('Words')
      await page.getByRole('button', { name: 'Add what was missed in this line' }).first().click()
      const sheet = page.getByRole('dialog')
      await sheet.getByLabel('What was missed?').fill('supers')
      await sheet.getByLabel('Its value').fill('many')
      await sheet.getByRole('button', { name: 'Add it' }).click()
      expect(await shown(sheet.getByRole('alert'))).toMatch(/^supers: type a number/)
      await sheet.getByLabel('Its value').fill('2')
      await sheet.getByRole('button', { name: 'Add it' }).click()
      await expect.poll(() => shown(page.locator('.words-screen .changes'))).not.toBe('')
      await page.locator('.transcript button.mark').first().click()
      await expect.poll(() => shown(page.getByRole('dialog'))).toMatch(/supers\s+2/)
      await page.getByRole('button', { name: 'Close' }).click()
    })

    test('the day of a visit is put right', async () => {
      const { page } = phone
      await page.getByRole('button', { name: /^Visit.*its day/ }).click()
      await page.getByLabel('The day of the visit').fill('2026-05-04')
      await page.getByRole('dialog').getByRole('button', { name: 'Take it' }).first().click()
      await expect.poll(() => page.getByRole('dialog').count()).toBe(0)
      await page.getByRole('button', { name: /^Visit.*its day/ }).click()
      expect(await page.getByLabel('The day of the visit').inputValue()).toBe('2026-05-04')
      await page.getByRole('button', { name: 'Close' }).click()
    })

    test('a browser that is killed in the middle of a sentence loses none of it', async () => {
      const { page } = phone
      await go('Speak')
      await page.getByRole('button', { name: 'Start' }).click()
      await speak(page, 'stores are low')
      await speak(page, 'and the queen was on frame', false)
      await page.waitForTimeout(1000)
      // Only this test's own browser holds this profile: it ends as with an empty battery.
      for (const pid of browserOf(phone.profile)) process.kill(pid, 'SIGKILL')
      await phone.context.close().catch(() => {})
      phone = await openPhone({ profile: phone.profile })
      await phone.page.goto(`${home.origin}/#words`)
      await expect.poll(() => shown(phone.page.locator('.transcript'))).toMatch(/stores are low/)
      const words = await phone.page.locator('.transcript li', { hasText: 'broke off here' }).evaluate((line) => {
        for (const doubt of line.querySelectorAll('.mark-doubt')) doubt.remove()
        return line.textContent
      })
      expect(words).toMatch(/^and the queen was on frame/)
    })
  },
)

/** Main processes of the browser with a profile. */
function browserOf(profile: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((name) => {
      try {
        const line = readFileSync(`/proc/${name}/cmdline`, 'utf8').split('\0')
        return line.includes(`--user-data-dir=${profile}`) && !line.some((word) => word.startsWith('--type='))
          ? [Number(name)]
          : []
      } catch {
        return []
      }
    })
}
