import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { extname, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { combscribe, mayBeMissing } from '../command.ts'
import { lacking, openPhone, type Phone, shown } from './phone.ts'

/** The page as a club's host has it: files under some path, no headers of ours, no recogniser, no logbook. */
const path = '/members/hive-notes/'
const types: Record<string, string> = {
  ...{ '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml' },
  ...{ '.png': 'image/png', '.webmanifest': 'application/manifest+json' },
}

describe.skipIf(lacking() !== undefined && mayBeMissing)('the page on a host of files', { timeout: 60_000 }, () => {
  const folder = mkdtempSync(join(tmpdir(), 'combscribe-hosted-'))
  const asked: string[] = []
  let host: Server
  let address: string
  let phone: Phone

  beforeAll(async () => {
    expect(combscribe(['serve', '--to', folder])).toMatchObject({ code: 0, err: '' })
    host = createServer(({ url = '' }, answer) => {
      const name = url.startsWith(path) ? url.slice(path.length).split('?')[0] || 'index.html' : ''
      try {
        const bytes = readFileSync(join(folder, name))
        answer.writeHead(200, { 'Content-Type': types[extname(name)] ?? 'application/octet-stream' }).end(bytes)
      } catch {
        answer.writeHead(404, { 'Content-Type': 'text/html' }).end('<h1>Nothing here</h1>')
      }
    })
    await new Promise<void>((resolve) => host.listen(0, '127.0.0.1', resolve))
    address = `http://127.0.0.1:${(host.address() as AddressInfo).port}`
    phone = await openPhone()
    phone.context.on('request', (request) => asked.push(request.url()))
    await phone.page.goto(address + path)
    await phone.page.getByRole('button', { name: 'Start' }).waitFor()
  }, 60_000)
  afterAll(async () => {
    await phone?.close()
    host?.close()
    host?.closeAllConnections()
    rmSync(folder, { recursive: true, force: true })
  })

  const say = async (words: string): Promise<void> => {
    await phone.page.getByRole('button', { name: 'Type or open' }).click()
    await phone.page.getByLabel('A sentence, or a whole transcript').fill(words)
    await phone.page.getByRole('button', { name: 'Say it' }).click()
  }

  test('reads and judges, asks for nothing outside its folder', async () => {
    await say('hive two, five frames of brood, no eggs')
    await expect.poll(() => shown(phone.page.locator('.latest'))).toMatch(/frames of brood 5/)
    expect(asked.length).toBeGreaterThan(5)
    expect(asked.filter((url) => !url.startsWith(address + path))).toEqual([])
  })

  test('keeps to the strict policy although the host sends none', async () => {
    const tried = await phone.page.evaluate(async () => {
      const broken: string[] = []
      document.addEventListener('securitypolicyviolation', (event) => broken.push(event.effectiveDirective))
      const script = document.createElement('script')
      script.textContent = 'globalThis.intruder = true'
      document.head.append(script)
      const image = document.createElement('img')
      image.src = 'http://hives.example/spy.png'
      document.body.append(image)
      await fetch('http://hives.example/').catch(() => {})
      await new Promise((resolve) => setTimeout(resolve, 200))
      image.remove()
      script.remove()
      return { broken, intruder: 'intruder' in globalThis }
    })
    expect(tried.intruder).toBe(false)
    expect(tried.broken.sort()).toEqual(['connect-src', 'img-src', 'script-src-elem'])
  })

  test('opens again with no network, with what was said', async () => {
    await phone.page.evaluate(() => navigator.serviceWorker.ready)
    // The plots, what opens transcripts and what was learned, which come last.
    const hasLater = () => caches.open('combscribe-later').then((cache) => cache.keys().then(({ length }) => length))
    await expect.poll(() => phone.page.evaluate(hasLater), { timeout: 10_000 }).toBe(3)
    await phone.context.setOffline(true)
    const plots = readdirSync(join(folder, 'parts')).find((name) => /^draw-plot-\w+\.js$/.test(name))
    await phone.page.goto(address + path)
    await expect.poll(() => shown(phone.page.locator('.head-visit'))).toMatch(/1 said/)
    expect(await phone.page.evaluate((name) => fetch(`parts/${name}`).then(({ ok }) => ok), plots)).toBe(true)
    await say('hive two, calm bees')
    await expect.poll(() => shown(phone.page.locator('.latest'))).toMatch(/calm/)
    await phone.context.setOffline(false)
  })

  test('offers a new version, takes it when it is wanted, and keeps what was said', async () => {
    const page = join(folder, 'index.html')
    const worker = join(folder, 'service-worker.js')
    writeFileSync(page, readFileSync(page, 'utf8').replace('<title>Combscribe</title>', '<title>Newer</title>'))
    const listed = readFileSync(worker, 'utf8')
    const newer = listed.replace(/(url:"index\.html",revision:")\w+/, '$1newer')
    expect(newer).not.toBe(listed)
    writeFileSync(worker, newer)
    await phone.page.reload()
    await phone.page.getByRole('link', { name: 'Visits' }).click()
    const take = phone.page.getByRole('button', { name: 'A newer page is here: take it' })
    await take.waitFor({ timeout: 20_000 })
    // Not before: nothing changes in the middle of a visit.
    expect(await phone.page.title()).toBe('Combscribe')
    await take.click()
    await expect.poll(() => phone.page.title(), { timeout: 20_000 }).toBe('Newer')
    await expect.poll(() => shown(phone.page.locator('.head-visit'))).toMatch(/2 said/)
  })
})
