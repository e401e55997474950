import type { Correction } from '../../corrections/correction.ts'
import type { Due } from '../../report/due.ts'
import type { Home, Visit } from '../../web-server/services.ts'

/** What came of asking the home machine: an answer, a refusal in one sentence, or nobody there. */
export type Reply<T> =
  | { readonly is: 'answer'; readonly value: T }
  | { readonly is: 'no'; readonly why: string }
  | { readonly is: 'away' }

/** Milliseconds after which nobody is taken to be there; hearing a recording takes its time. */
const PATIENCE = 4000
const HEARING = 120_000

async function ask<T>(path: string, how: RequestInit = {}, patience = PATIENCE): Promise<Reply<T>> {
  let response: Response
  try {
    response = await fetch(`api/${path}`, { ...how, cache: 'no-store', signal: AbortSignal.timeout(patience) })
  } catch {
    return { is: 'away' }
  }
  try {
    const body = await response.json()
    if (response.ok) return { is: 'answer', value: body as T }
    return typeof body.error === 'string' ? { is: 'no', why: body.error } : { is: 'away' }
  } catch {
    // A host of static files answers with a page: the home machine is not there.
    return { is: 'away' }
  }
}

const json = (body: unknown): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
})

export const askHome = (): Promise<Reply<Home>> => ask('home')
/** Has a WAV (16 kHz, one channel) written down by the recogniser at home. */
export const askTranscript = (wav: ArrayBuffer): Promise<Reply<{ transcript: string }>> =>
  ask('transcripts', { method: 'POST', headers: { 'content-type': 'audio/wav' }, body: wav }, HEARING)
/** Hands one visit to the logbook; the same visit again changes what is there. */
export const giveNote = (note: {
  name: string
  date: string
  text: string
  corrections: readonly Correction[]
}): Promise<Reply<{ kept: 'new' | 'same' | 'changed' }>> => ask('notes', json(note), 30_000)
/** One entry of what is due over all hives, and the day of the visit that it comes from. */
export type DueRow = Due & { readonly date: string }

/** Labels of the hives in the logbook. */
export const askHives = (): Promise<Reply<{ hives: readonly { hive: string; notes: number }[] }>> => ask('history')
export const askHistory = (hive: string): Promise<Reply<{ visits: readonly Visit[] }>> =>
  ask(`history?hive=${encodeURIComponent(hive)}`)
export const askDue = (): Promise<Reply<{ today: string; due: readonly DueRow[] }>> => ask('due')
