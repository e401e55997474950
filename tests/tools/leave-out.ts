/**
 * Reading a note as if it had never been seen: the grammar grew on the labelled notes, so a line that only one of them
 * needs would not be there without it.
 */
import { english } from '../../src/grammar/english.ts'
import type { EntryIndex, Grammar } from '../../src/grammar/grammar.ts'
import { utterancesOf } from '../../src/read.ts'
import { findMentions } from '../../src/reading/find.ts'
import type { Term } from '../../src/reading/lookup.ts'
import type { Mention } from '../../src/reading/mention.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'

export { readNote } from '../../src/read-note.ts'
export { placedReadings } from '../../src/record/schema.ts'
export { openTranscript } from '../../src/transcript/open.ts'

/** The grammar lines that have a say in a note. */
export function linesIn(input: Transcript | string): Set<string> {
  const out = new Set<string>()
  const note = (mention: Mention): void => {
    for (const meaning of mention.meanings) {
      out.add(meaning.entry.id)
      for (const { value } of Object.values(meaning.captures)) {
        const term = value as Partial<Term> | null
        if (typeof term === 'object' && term?.entry) out.add(term.entry.id)
      }
    }
    for (const cue of mention.standing) out.add(cue.by)
    mention.pieces.forEach(note)
  }
  const transcript = typeof input === 'string' ? openTranscript(input, 'note') : input
  for (const utterance of utterancesOf(transcript)) {
    for (const word of utterance.words) if (word.by) out.add(word.by)
    findMentions(utterance, english(), { hives: new Map(), yards: new Map(), known: new Set() }).mentions.forEach(note)
  }
  return out
}

/** The English grammar without some lines. */
export function englishWithout(lines: ReadonlySet<string>): Grammar {
  const filter = (index: EntryIndex): EntryIndex => {
    const out: Record<string, unknown> = {}
    for (const [name, map] of Object.entries(index) as [
      string,
      ReadonlyMap<string, readonly ({ id: string } | { entry: { id: string } })[]>,
    ][]) {
      out[name] = new Map(
        [...map].map(([key, list]) => [key, list.filter((item) => !lines.has('id' in item ? item.id : item.entry.id))]),
      )
    }
    return out as unknown as EntryIndex
  }
  const { terms, phrases, cues, repairs, ...rest } = english()
  return { ...rest, terms: filter(terms), phrases: filter(phrases), cues: filter(cues), repairs: filter(repairs) }
}
