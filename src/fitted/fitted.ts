import amounts from '../clauses/amounts.json' with { type: 'json' }
import { type ClauseReader, clauseReader } from '../clauses/reader.ts'
import tagger from '../clauses/tagger.json' with { type: 'json' }
import calls from '../hives/call-net.json' with { type: 'json' }
import { callNet } from '../hives/call-net.ts'
import words from '../hives/common-words.json' with { type: 'json' }
import { commonWords } from '../hives/common-words.ts'
import cues from '../hives/cue-net.json' with { type: 'json' }
import { together, unpackCueNet } from '../hives/cue-net.ts'
import fine from '../hives/fine-weights.json' with { type: 'json' }
import type { LearnedOfCalls } from '../hives/learned.ts'
import { unpackWeights } from '../hives/score.ts'
import { readAmount } from '../language/amounts.ts'
import borders from '../language/border-net.json' with { type: 'json' }
import { borderReader } from '../language/border-net.ts'
import type { BorderReader } from '../language/borders.ts'
import names from '../language/name-net.json' with { type: 'json' }
import { nameReader } from '../language/name-net.ts'
import type { NameReader } from '../language/named.ts'

/** What was learned from labelled notes and is too large for the page's first load. */
export interface Fitted {
  readonly borders: BorderReader
  readonly names: NameReader
  readonly clauses: ClauseReader
  readonly hives: LearnedOfCalls
}

let known: Fitted | null = null

/** What ships; unpacked when it is asked for first. The page has one of its own, which comes after the page. */
export function fitted(): Fitted | null {
  known ??= {
    borders: borderReader(borders),
    names: nameReader(names),
    clauses: clauseReader(amounts, tagger, readAmount),
    hives: {
      weights: unpackWeights(fine, 'fine'),
      together: together(unpackCueNet(cues)),
      callNet: callNet(calls),
      words: commonWords(words),
    },
  }
  return known
}
