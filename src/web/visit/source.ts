import { keptHead } from '../../live/tape.ts'
import type { KeptVisit } from '../store/visits.ts'

/**
 * What was said in a kept visit, as a text that `openTranscript` reads and a visit is restored from. The utterances are
 * numbered anew: two windows that were open at once have counted each by itself.
 */
export function sourceOf({ row, said }: Pick<KeptVisit, 'row' | 'said'>): string {
  if (row.brought) return row.brought.text
  const lines = said.map(({ line }, i) => `${JSON.stringify({ ...JSON.parse(line), heard: i + 1 })}\n`)
  return keptHead(row.date) + lines.join('')
}
