import * as z from 'zod'

/**
 * What a grammar line may hold. `grammar/en/*.json` is data that a keeper can read: an array with one line an entry, so
 * that line number = index + 2.
 */

const say = z.union([z.string().min(1), z.array(z.string().min(1)).min(1)])

/** A value: a word, a number, or `$name` for what the pattern captured. */
const given = z.union([z.string(), z.number()])

export const giveSchema = z.strictObject({
  field: z.string().min(1),
  value: given,
  /** The value when the words are denied; null: a denial gives nothing. Yes/no fields turn by themselves. */
  deny: given.nullable().optional(),
  /** Only at this level, whatever is in hand. */
  at: z.enum(['visit', 'hive', 'box', 'frame']).optional(),
})

export const lineSchema = z.strictObject({
  say,
  /** `class:value`: the words are a term of that class. */
  is: z
    .string()
    .regex(/^[a-z][A-Za-z]*:.+$/)
    .optional(),
  field: z.string().optional(),
  value: given.optional(),
  deny: given.nullable().optional(),
  at: z.enum(['visit', 'hive', 'box', 'frame']).optional(),
  gives: z.array(giveSchema).optional(),
  /** Something the record does with what it already knows: `yes`, `no`, `same`, `flip`, `cancel`, … */
  act: z.string().optional(),
  /** Where we are from here on. Values are words, numbers or `$name`. */
  place: z.record(z.string(), given).optional(),
  /** What the words are about, for bare answers and numbers that follow. */
  topic: z.string().optional(),
  /** Only in this setting: `super`, `brood`, `frame`, `topic:cells`, `question`, … One of them is enough. */
  when: z.array(z.string()).optional(),
  /** Not in this setting. */
  never: z.array(z.string()).optional(),
  /** Patterns that take the meaning away when they touch or cover these words. */
  unless: z.array(z.string()).optional(),
  /** One of these patterns must occur in the same utterance. */
  near: z.array(z.string()).optional(),
  /** The words are a cue for the standing of a clause; `season` is a time of year, of the past or to come by its verb. */
  cue: z.string().optional(),
  /** How far the cue reaches. `tail`: over its clause when it ends it. */
  reach: z.enum(['word', 'noun', 'clause', 'sentence', 'back', 'tail', 'around', 'run']).optional(),
  /** Self-contained: a denial, plan or question around the words does not change them. */
  firm: z.boolean().optional(),
  /** A denial is already inside the words. */
  denied: z.boolean().optional(),
  /** How telling the words are, 0..1; 1 when left out. */
  weight: z.number().min(0).max(1).optional(),
  /** No border of any kind may stand between the words. */
  tight: z.boolean().optional(),
  /** Breaks ties; higher wins. */
  rank: z.number().optional(),
  /** For mishearings: the neighbours that make it a mishearing. */
  before: z.string().optional(),
  after: z.string().optional(),
  /** What the entry rests on: `measured`, `common`, … */
  note: z.string().optional(),
})
export type Give = z.infer<typeof giveSchema>
export type Line = z.infer<typeof lineSchema>

export const fileSchema = z.array(lineSchema)
