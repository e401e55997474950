import { gzipSync } from 'node:zlib'
import { brotli } from '../tools/build-web.mjs'
import { load } from '../tools/load.mjs'

const measured = 30
/** How much slower than this machine the phone is taken to be. */
const slower = 4

/**
 * Speaks an hour into the built page and prints how long one utterance takes, from the recogniser's event to the answer
 * laid out on the screen, with the processor slowed down; and what the first load costs. `utterances`: what is said in
 * that hour.
 */
export async function benchPage(utterances, line) {
  const { lacking, openPhone, speak, serving } = await load('tests/page/inside.ts')
  if (lacking()) return console.log(lacking())
  const home = await serving()
  const phone = await openPhone()
  try {
    const sizes = await firstLoad(phone, home.origin)
    const kB = (bytes) => `${(bytes / 1000).toFixed(0)} kB`
    console.log(
      `first load of the page: ${kB(sizes.brotli)} as serve sends it (brotli), at most 350 kB; ${kB(sizes.gzip)} with gzip`,
    )
    const { page } = phone
    await page.getByRole('button', { name: 'Start' }).click()
    await page.getByRole('button', { name: /^This browser/ }).click()
    await speak(page, 'hive one')
    const debug = await phone.context.newCDPSession(page)
    await debug.send('Performance.enable', { timeDomain: 'threadTicks' })
    /** Seconds that the page's main thread has worked. */
    const worked = async () => {
      const { metrics } = await debug.send('Performance.getMetrics')
      return metrics.find(({ name }) => name === 'TaskDuration').value
    }
    let said = 0
    for (const minute of [1, 60]) {
      const until = Math.min(Math.round((utterances.length * minute) / 60), utterances.length - 2 * measured)
      if (said < until) await hear(page, utterances.slice(said, until))
      said = Math.max(said, until)
      const spent = []
      for (const words of utterances.slice(said, said + measured)) {
        const before = await worked()
        await hear(page, [words])
        const after = await worked()
        await hear(page, [null])
        // What the measuring itself costs is taken off.
        spent.push(after - before - ((await worked()) - after))
      }
      said += measured
      await debug.send('Emulation.setCPUThrottlingRate', { rate: slower })
      const waited = await hear(page, utterances.slice(said, said + measured))
      await debug.send('Emulation.setCPUThrottlingRate', { rate: 1 })
      said += measured
      const [work, most] = [middle(spent, 0.5), middle(spent, 0.95)].map((seconds) => seconds * 1000 * slower)
      line(
        `the page answers, minute ${minute}, ${slower} times slower`,
        work,
        `of work, 19 of 20 within ${most.toFixed(1)}; at most 20${work > 20 ? ', OVER' : ''}; by the clock ${middle(waited, 0.5).toFixed(1)}`,
      )
    }
  } finally {
    await phone.close()
    await home.stop()
  }
}

const middle = (list, share) => [...list].sort((a, b) => a - b)[Math.floor(list.length * share)]

/** Speaks utterances one after the other; milliseconds of each until its answer is laid out. */
const hear = (page, utterances) =>
  page.evaluate(async (all) => {
    const rendered = () =>
      new Promise((resolve) => {
        const { port1, port2 } = new MessageChannel()
        port1.onmessage = resolve
        port2.postMessage(0)
      })
    const times = []
    for (const words of all) {
      const start = performance.now()
      if (words !== null) globalThis.speechForTests.speak(words)
      await rendered()
      document.body.getBoundingClientRect()
      times.push(performance.now() - start)
      // A pause as between two sentences: what waits for one is not part of the answer.
      await new Promise((resolve) => setTimeout(resolve, 5))
    }
    return times
  }, utterances)

/** Bytes of everything the page and its worker fetch, compressed. */
async function firstLoad(phone, origin) {
  const files = new Map()
  const waiting = []
  phone.context.on('response', (response) => {
    if (response.ok())
      waiting.push(
        response
          .body()
          .then((body) => files.set(response.url(), body))
          .catch(() => {}),
      )
  })
  await phone.page.goto(origin)
  await phone.page.evaluate(() => navigator.serviceWorker.ready)
  await phone.page.getByRole('button', { name: 'Start' }).waitFor()
  await Promise.all(waiting)
  const sum = (size) => [...files.values()].reduce((all, body) => all + size(body), 0)
  return { gzip: sum((body) => gzipSync(body).length), brotli: sum((body) => brotli(body).length) }
}
