import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { AxeResults } from 'axe-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type Serving, serving } from '../server/serving.ts'
import { lacking, openPhone, type Phone, speak } from './phone.ts'

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

/** Every screen and sheet, as axe (Deque's checks of WCAG 2.2 and good practice) sees it. */
describe.skipIf(lacking() !== undefined && process.env.CI !== 'true').each(['light', 'dark'] as const)(
  'nothing keeps anybody out: %s',
  { timeout: 60_000 },
  (scheme) => {
    const folder = mkdtempSync(join(tmpdir(), 'combscribe-axe-'))
    let home: Serving
    let phone: Phone

    /** What axe finds on what is shown now. */
    const violations = async (): Promise<string[]> => {
      // Through the debugger: the page's own policy lets no foreign script in.
      await phone.page.evaluate(axe)
      const { violations: found } = await phone.page.evaluate(() =>
        (globalThis as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
      )
      return found.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)
    }

    beforeAll(async () => {
      home = await serving(['--logbook', join(folder, 'log.db')])
      phone = await openPhone({ scheme })
      await phone.page.goto(home.origin)
      await phone.page.getByRole('button', { name: 'Start' }).waitFor()
    }, 60_000)
    afterAll(async () => {
      await phone?.close()
      await home?.stop()
      rmSync(folder, { recursive: true, force: true })
    })

    test.each(['speak', 'words', 'next', 'past', 'visits'])('%s, before anything was said', async (screen) => {
      await phone.page.goto(`${home.origin}/#${screen}`)
      await phone.page.locator('h1').first().waitFor({ state: 'attached' })
      expect(await violations()).toEqual([])
    })

    test('the choice of how to hear', async () => {
      await phone.page.goto(`${home.origin}/#speak`)
      await phone.page.getByRole('button', { name: 'Start' }).click()
      expect(await violations()).toEqual([])
      await phone.page.getByRole('button', { name: /^This browser’s recognition/ }).click()
    })

    test('answers, doubts and alarms', async () => {
      const { page } = phone
      for (const words of [
        'hive two, six frames of brood, calm bees',
        'mite wash, nine mites in three hundred bees, stores are low',
        'I think maybe seven frames of bees or so',
        'hive one, sunken cappings, ropy larvae and a foul smell',
        'swarm cells, four capped, kind of a grumpy bunch',
      ])
        await speak(page, words)
      await page.locator('.alarm').first().waitFor()
      await page.locator('.hive-check summary').click()
      expect(await page.locator('.flag-check').count()).toBeGreaterThan(0)
      expect(await violations()).toEqual([])
    })

    test.each(['words', 'next', 'past', 'visits'])('%s, with a visit', async (screen) => {
      await phone.page.goto(`${home.origin}/#${screen}`)
      await phone.page.locator('.transcript button, .card').first().waitFor()
      for (const summary of await phone.page.locator('main summary').all()) await summary.click()
      expect(await violations()).toEqual([])
    })

    test('a touched word, and the doubtful ones one after the other', async () => {
      const { page } = phone
      await page.goto(`${home.origin}/#words`)
      await page.locator('.transcript button.mark').first().click()
      await page.getByRole('dialog').waitFor()
      expect(await violations()).toEqual([])
      await page.getByRole('button', { name: 'Close' }).click()
      await page.getByRole('button', { name: /^Check \d/ }).click()
      await page
        .getByRole('dialog')
        .getByRole('button', { name: /^Change/ })
        .first()
        .click()
      await page.getByRole('button', { name: 'It was another hive' }).click()
      expect(await violations()).toEqual([])
      await page.getByRole('button', { name: 'Stop', exact: true }).click()
      await page.locator('.transcript .add').first().click()
      expect(await violations()).toEqual([])
      await page.getByRole('button', { name: 'Close' }).click()
      await page.getByRole('button', { name: /^Visit.*its day/ }).click()
      expect(await violations()).toEqual([])
      await page.getByRole('button', { name: 'Close' }).click()
      await page.goto(`${home.origin}/#speak`)
      await page.getByRole('button', { name: 'Type or open' }).click()
      expect(await violations()).toEqual([])
      await page.getByRole('button', { name: 'Close' }).click()
    })

    test('targets are large enough for gloves', async () => {
      const { page } = phone
      for (const screen of ['speak', 'words', 'next', 'past', 'visits']) {
        await page.goto(`${home.origin}/#${screen}`)
        await page.locator('nav a[aria-current]').waitFor()
        const small = await page
          .locator('button:visible, nav a:visible, summary:visible, label.switch:visible, input[type=text]:visible')
          .evaluateAll((all) =>
            all
              .map((one) => ({ height: one.getBoundingClientRect().height, what: one.outerHTML.slice(0, 80) }))
              .filter(({ height }) => height < 55.5),
          )
        expect(small, screen).toEqual([])
      }
    })

    test('nothing is wider than the phone', async () => {
      const { page } = phone
      for (const screen of ['speak', 'words', 'next', 'past', 'visits']) {
        await page.goto(`${home.origin}/#${screen}`)
        await page.locator('nav a[aria-current]').waitFor()
        expect(await page.evaluate(() => document.documentElement.scrollWidth), screen).toBeLessThanOrEqual(360)
      }
    })
  },
)
