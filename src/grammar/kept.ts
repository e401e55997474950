import type { HearingData } from './hearing.ts'
import type { Pattern } from './pattern.ts'

/** What is known beforehand of the grammar that ships, so that most of its patterns need not be parsed. */
export interface Kept {
  /** The pattern of the entry of that number; undefined: it is to be prepared. */
  pattern(order: number, source: string, lists: ReadonlyMap<string, readonly string[]>): Pattern | undefined
  /** Every word that a pattern or a list names. */
  words(): ReadonlySet<string>
  readonly meant: HearingData['meant']
}

/** For Node the build puts a table here (`tests/tools/keep-grammar.mjs`); elsewhere everything is worked out at the start. */
export const kept: Kept | null = null
