import type { ReadableStream } from 'node:stream/web'
import { type Context, Hono } from 'hono'
import pLimit from 'p-limit'
import { correctionSchema } from '../corrections/correction.ts'
import * as z from '../zod.ts'
import { bodyOf } from './bodies.ts'
import { refuse } from './guard.ts'
import type { LogbookService, Services } from './services.ts'

const handedOver = z.strictObject({
  /** Printable, and no path. */
  name: z
    .string()
    .check(
      z.trim(),
      z.minLength(1),
      z.maxLength(120),
      z.regex(/^[^/\\\p{Cc}]+$/u, 'a name without slashes and control characters'),
    ),
  date: z.iso.date(),
  text: z.string().check(z.minLength(1)),
  corrections: z._default(z.array(correctionSchema).check(z.maxLength(10_000)), []),
})
const historyQuery = z.strictObject({ hive: z.optional(z.string().check(z.maxLength(120))) })
const dueQuery = z.strictObject({ date: z.optional(z.iso.date()) })

/** Recordings that may wait for the one that is being heard. */
const queue = 4

/** What the page asks of the machine at home. Every answer is JSON; what goes wrong is `{ error }`, one sentence. */
export function createApi({ home, transcribe, logbook, ending, today }: Services): Hono {
  const api = new Hono()
  const hearing = pLimit(1)
  let recordings = 0
  const writing = pLimit(1)

  api.get('/home', (c) => c.json(home))

  const audio = { types: ['audio/wav', 'audio/x-wav', 'audio/wave', 'audio/vnd.wave'], most: 64_000_000 }
  api.post('/transcripts', bodyOf(audio), async (c) => {
    if (!transcribe) return refuse(c, 404, 'No recogniser is configured; name one in the yard file.')
    if (recordings > queue) {
      c.header('Retry-After', '10')
      return refuse(c, 429, 'Several recordings are waiting already; try again in a moment.')
    }
    const body = c.req.raw.body as ReadableStream<Uint8Array> | null
    if (!body) return refuse(c, 400, 'The recording is empty.')
    const gone = AbortSignal.any([c.req.raw.signal, ending])
    recordings++
    try {
      return c.json(await transcribe(body, gone, hearing))
    } finally {
      recordings--
    }
  })

  api.post('/notes', bodyOf({ types: ['application/json'], most: 1_000_000 }), async (c) => {
    if (!logbook) return noLogbook(c)
    const visit = handedOver.safeParse(await c.req.json().catch(() => undefined))
    if (!visit.success) return unfit(c, visit.error)
    return c.json(await writing(() => logbook.keep(visit.data)))
  })

  api.get('/history', async (c) => {
    if (!logbook) return noLogbook(c)
    const query = historyQuery.safeParse(c.req.query())
    if (!query.success) return unfit(c, query.error)
    if (query.data.hive === undefined) return c.json({ hives: await logbook.hives() })
    return historyOf(c, logbook, query.data.hive)
  })

  api.get('/due', async (c) => {
    if (!logbook) return noLogbook(c)
    const query = dueQuery.safeParse(c.req.query())
    if (!query.success) return unfit(c, query.error)
    const day = query.data.date ?? today()
    return c.json({ today: day, due: await logbook.due(day) })
  })

  return api
}

async function historyOf(c: Context, logbook: LogbookService, asked: string): Promise<Response> {
  const hive = asked.toLowerCase().replace(/^hive /, '')
  const visits = await logbook.history(hive)
  return visits.length > 0 ? c.json({ hive, visits }) : refuse(c, 404, 'No visit to this hive is in the logbook.')
}

const noLogbook = (c: Context): Response =>
  refuse(c, 404, 'There is no logbook; start combscribe serve with --logbook.')

/** The first thing that does not fit. */
function unfit(c: Context, error: z.core.$ZodError): Response {
  const { path, message } = error.issues[0]!
  const where = path.length > 0 ? `${path.map(String).join('.')}: ` : ''
  return refuse(c, 400, `The request does not fit (${where}${message}).`)
}
