import * as z from '../zod.ts'

/**
 * What a grammar line may hold. `grammar/en/*.json` is data that a keeper can read: an array with one line an entry, so
 * that line number = index + 2.
 */

const say = z.union([z.string().check(z.minLength(1)), z.array(z.string().check(z.minLength(1))).check(z.minLength(1))])

/** A value: a word, a number, or `$name` for what the pattern captured. */
const given = z.union([z.string(), z.number()])

export const giveSchema = z.strictObject({
  field: z.string().check(z.minLength(1)),
  value: given,
  /** The value when the words are denied; null: a denial gives nothing. Yes/no fields turn by themselves. */
  deny: z.optional(z.nullable(given)),
  /** Only at this level, whatever is in hand. */
  at: z.optional(z.enum(['visit', 'hive', 'box', 'frame'])),
})

export const lineSchema = z.strictObject({
  say,
  /** `class:value`: the words are a term of that class. */
  is: z.optional(z.string().check(z.regex(/^[a-z][A-Za-z]*:.+$/))),
  field: z.optional(z.string()),
  value: z.optional(given),
  deny: z.optional(z.nullable(given)),
  at: z.optional(z.enum(['visit', 'hive', 'box', 'frame'])),
  gives: z.optional(z.array(giveSchema)),
  /** Something the record does with what it already knows: `yes`, `no`, `same`, `flip`, `cancel`, … */
  act: z.optional(z.string()),
  /** Where we are from here on. Values are words, numbers or `$name`. */
  place: z.optional(z.record(z.string(), given)),
  /** What the words are about, for bare answers and numbers that follow. */
  topic: z.optional(z.string()),
  /** Only in this setting: `super`, `brood`, `frame`, `topic:cells`, `question`, … One of them is enough. */
  when: z.optional(z.array(z.string())),
  /** Not in this setting. */
  never: z.optional(z.array(z.string())),
  /** Patterns that take the meaning away when they touch or cover these words. */
  unless: z.optional(z.array(z.string())),
  /** One of these patterns must occur in the same utterance. */
  near: z.optional(z.array(z.string())),
  /** The words are a cue for the standing of a clause; `season` is a time of year, of the past or to come by its verb. */
  cue: z.optional(z.string()),
  /** The words name a thing, and the line says what it amounts to when one is put on, taken off, moved, made or destroyed (`reading/deeds.ts`). */
  deed: z.optional(z.enum(['add', 'take', 'move', 'make', 'wreck'])),
  /** The words name a thing, and the line says what it amounts to when some work is to be done with it (`reading/tasks.ts`). */
  task: z.optional(z.string()),
  /** How far the cue reaches. `tail`: over its clause when it ends it. */
  reach: z.optional(z.enum(['word', 'noun', 'clause', 'sentence', 'back', 'tail', 'around', 'run'])),
  /** Self-contained: a denial, plan or question around the words does not change them. */
  firm: z.optional(z.boolean()),
  /** A denial is already inside the words. */
  denied: z.optional(z.boolean()),
  /** How telling the words are, 0..1; 1 when left out. */
  weight: z.optional(z.number().check(z.minimum(0), z.maximum(1))),
  /** No border of any kind may stand between the words. */
  tight: z.optional(z.boolean()),
  /** Breaks ties; higher wins. */
  rank: z.optional(z.number()),
  /** For mishearings: the neighbours that make it a mishearing. */
  before: z.optional(z.string()),
  after: z.optional(z.string()),
  /** What the entry rests on: `measured`, `common`, … */
  note: z.optional(z.string()),
})
export type Give = z.infer<typeof giveSchema>
export type Line = z.infer<typeof lineSchema>

export const fileSchema = z.array(lineSchema)
