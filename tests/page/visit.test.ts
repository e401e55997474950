import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { combscribe } from '../command.ts'
import { type Serving, serving } from '../server/serving.ts'
import { lacking, openPhone, type Phone, shown, speak } from './phone.ts'

/** One visit from the first load to the logbook, on a phone that loses its network at the apiary's gate. */
describe.skipIf(lacking() !== undefined && process.env.CI !== 'true')(
  'a visit on the phone',
  { timeout: 60_000 },
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'combscribe-visit-'))
    const logbook = join(folder, 'log.db')
    const asked: string[] = []
    const faults: string[] = []
    let home: Serving
    let phone: Phone

    const go = async (name: string): Promise<void> => {
      await phone.page.getByRole('link', { name }).click()
      await phone.page.getByRole('heading', { level: 1 }).first().waitFor()
    }
    const cell = (name: string): Promise<string> => shown(phone.page.locator(`.cell-${name} dd`))
    const said = async (): Promise<string> => (await shown(phone.page.locator('.latest'))).replaceAll('\n', ' ')

    beforeAll(async () => {
      home = await serving(['--logbook', logbook])
      phone = await openPhone()
      phone.context.on('request', (request) => asked.push(request.url()))
      phone.page.on('pageerror', (error) => faults.push(error.message))
      await phone.page.goto(home.origin)
      await phone.page.evaluate(() => navigator.serviceWorker.ready)
      await phone.context.setOffline(true)
      await phone.page.reload()
    }, 60_000)

    afterAll(async () => {
      await phone?.close()
      await home?.stop()
      rmSync(folder, { recursive: true, force: true })
    })

    test('opens without a network and asks how to hear before it hears', async () => {
      const { page } = phone
      await page.getByRole('button', { name: 'Start' }).click()
      const sheet = page.getByRole('dialog', { name: 'How shall this page hear you?' })
      expect(await shown(sheet)).toMatch(/may send the sound to its maker/)
      await sheet.getByRole('button', { name: /^This browser’s recognition/ }).click()
      await page.getByRole('button', { name: 'Stop' }).waitFor()
    })

    test('says at once where we are, what was understood and what is doubtful', async () => {
      const { page } = phone
      await speak(page, 'hive two')
      await speak(page, 'super one frame four side b')
      await expect.poll(() => cell('side')).toBe('B')
      expect([await cell('hive'), await cell('box'), await cell('frame')]).toEqual(['2', 'super 1', '4'])
      await speak(page, 'fifty percent capped')
      await expect.poll(said).toMatch(/capped 50 %.*“fifty percent capped”/)
      await speak(page, 'I think maybe seven frames of bees or so')
      await expect.poll(said).toMatch(/frames of bees 7 *check/)
    })

    test('an alarm is told at once and stays until it is put away', async () => {
      const { page } = phone
      await speak(page, 'hive three')
      await speak(page, 'sunken cappings, ropy larvae and a foul smell')
      const alarm = page.locator('.alarm')
      await expect.poll(() => shown(alarm.first())).toMatch(/^.?\s*Attention, hive 3\./)
      await speak(page, 'calm bees')
      expect(await alarm.count()).toBeGreaterThan(0)
      while ((await alarm.count()) > 0) {
        await alarm.first().locator('summary').click()
        await alarm.first().getByRole('button', { name: 'Seen' }).click()
      }
    })

    test('a recogniser that ends by itself is begun again', async () => {
      const { page } = phone
      await page.evaluate(() => (globalThis as unknown as { speechForTests: { tire(): void } }).speechForTests.tire())
      await speak(page, 'hive two')
      await expect.poll(() => cell('hive')).toBe('2')
    })

    test('words that a recogniser never settled before it ended were said all the same', async () => {
      const { page } = phone
      await speak(page, 'stores are plentiful', false)
      await page.evaluate(() => (globalThis as unknown as { speechForTests: { tire(): void } }).speechForTests.tire())
      await expect.poll(said).toMatch(/stores plentiful.*“stores are plentiful”/)
    })

    test('the hive check lists what the rules still lack', async () => {
      const check = phone.page.locator('.hive-check')
      expect(await shown(check.locator('summary'))).toMatch(/^Before you close hive 2: \d+ not said/)
      await check.locator('summary').click()
      expect(await shown(check)).toMatch(/eggs/)
      await check.locator('summary').click()
    })

    test('a value put right changes a finding, and that is said', async () => {
      const { page } = phone
      await go('Words')
      await page.getByRole('button', { name: /^fifty percent capped/ }).click()
      const sheet = page.getByRole('dialog')
      await sheet.getByLabel(/^Another value/).fill('ninety')
      await sheet.getByRole('button', { name: 'Take it' }).click()
      expect(await shown(sheet.getByRole('alert'))).toMatch(/type a number/)
      await sheet.getByLabel(/^Another value/).fill('95')
      await sheet.getByRole('button', { name: 'Take it' }).click()
      await expect.poll(() => shown(page.locator('.words-screen .changes'))).toMatch(/hive 2.*side B.*now .*ready/)
      await go('Next')
      await expect.poll(() => shown(page.locator('main'))).toMatch(/side B[\s\S]*ready/)
    })

    test('words of a sentence that was never finished survive the page', async () => {
      const { page } = phone
      await go('Speak')
      await speak(page, 'and the bees are rather', false)
      await page.waitForTimeout(600)
      await page.reload()
      await expect.poll(() => shown(page.locator('.head-visit'))).toMatch(/\d+ said/)
      await go('Words')
      const broken = page.locator('.transcript li', { hasText: 'broke off here' })
      await expect.poll(() => shown(broken)).toMatch(/^and the bees are rather/)
      await go('Next')
      await expect.poll(() => shown(page.locator('main'))).toMatch(/side B[\s\S]*ready/)
    })

    test('an undone correction is undone everywhere, and done again', async () => {
      const { page } = phone
      await go('Words')
      await page.getByRole('button', { name: 'Undo', exact: true }).click()
      await expect.poll(() => shown(page.locator('.words-screen .changes'))).toMatch(/hive 2.*side B/)
      await page.getByRole('button', { name: /^fifty percent capped/ }).click()
      const sheet = page.getByRole('dialog')
      await sheet.getByLabel(/^Another value/).fill('95')
      await sheet.getByRole('button', { name: 'Take it' }).click()
      await expect.poll(() => shown(page.locator('.words-screen .changes'))).toMatch(/now .*ready/)
    })

    test('without the logbook in reach it is shown as kept here only', async () => {
      const { page } = phone
      await go('Visits')
      expect(await shown(page.locator('.visits'))).toMatch(/only here/)
      expect(await page.getByRole('button', { name: 'Hand over to the logbook' }).isDisabled()).toBe(true)
    })

    test('back home the visit is handed over with what was put right', async () => {
      const { page } = phone
      await phone.context.setOffline(false)
      await page.evaluate(() => dispatchEvent(new Event('online')))
      const button = page.getByRole('button', { name: 'Hand over to the logbook' })
      await expect.poll(() => button.isEnabled()).toBe(true)
      await button.click()
      await expect.poll(() => shown(page.locator('.visits'))).toMatch(/in the logbook/)
      expect(await shown(page.locator('.told'))).toMatch(/^One visit is in the logbook/)
      const found = combscribe(['search', 'ropy', 'larvae', '--logbook', logbook])
      expect(found.out).toMatch(/\*ropy\* \*larvae\*/)
      expect(combscribe(['history', '2', '--logbook', logbook]).out).toMatch(/frames of bees 7/)
      const due = combscribe(['history', '--logbook', logbook]).out
      expect(due).toMatch(/^2 +1 visit\b/m)
    })

    test('what is said afterwards waits again', async () => {
      const { page } = phone
      await go('Speak')
      await page.getByRole('button', { name: 'Start' }).click()
      await speak(page, 'hive two, stores are low')
      await page.getByRole('button', { name: 'Stop' }).click()
      await go('Visits')
      await expect.poll(() => shown(page.locator('.visits'))).toMatch(/only here/)
    })

    test('a visit is taken away only after a question', async () => {
      const { page } = phone
      await page.getByRole('button', { name: 'Begin a new visit' }).click()
      await expect.poll(() => page.locator('.visits > li').count()).toBe(2)
      const remove = page.getByRole('button', { name: /^Remove the visit/ }).last()
      await remove.click()
      await page.getByRole('dialog').getByRole('button', { name: 'Keep it' }).click()
      expect(await page.locator('.visits > li').count()).toBe(2)
      await remove.click()
      await page.getByRole('dialog').getByRole('button', { name: 'Remove it for good' }).click()
      await expect.poll(() => page.locator('.visits > li').count()).toBe(1)
    })

    test('nothing was asked of any other machine, and nothing failed in the page', () => {
      expect(asked.length).toBeGreaterThan(5)
      expect(asked.filter((url) => !url.startsWith(`${home.origin}/`))).toEqual([])
      expect(faults).toEqual([])
    })
  },
)
