import { valueSchema } from '../record/schema.ts'
import * as z from '../zod.ts'

/** What a rule says about one place. The schemas are the only definition; types come out of them. */

export const kinds = ['ready', 'alarm', 'when', 'howMuch'] as const
export type Kind = (typeof kinds)[number]

/** The words a verdict may be, by kind of rule. */
export const verdictsOf = {
  ready: ['yes', 'no', 'cannot tell'],
  alarm: ['none', 'cannot tell', 'watch', 'act', 'urgent'],
  when: ['dated', 'nothing due', 'cannot tell'],
  howMuch: ['estimated', 'nothing to count', 'cannot tell'],
} as const satisfies Record<Kind, readonly string[]>
export type Verdict = (typeof verdictsOf)[Kind][number]

const isoDate = z.string().check(z.regex(/^\d{4}-\d{2}-\d{2}$/))

export const placeSchema = z.strictObject({
  /** `""` is the one hive that is never named; null is the visit as a whole. */
  hive: z.nullable(z.string()),
  box: z.nullable(z.string()),
  frame: z.nullable(z.int()),
  side: z.nullable(z.enum(['A', 'B'])),
})
export type Place = z.infer<typeof placeSchema>

export const groundSchema = z.strictObject({
  reading: z.string(),
  /** The note it was said in: this visit's, or an earlier one's. */
  note: z.string(),
  field: z.string(),
  value: valueSchema,
  quote: z.string(),
})

export const askSchema = z.strictObject({
  field: z.string(),
  ask: z.string(),
  /** `first`: a colony or a person may hang on it; `soon`: the next visit; `optional`: only for completeness. */
  priority: z.enum(['first', 'soon', 'optional']),
})
export type Ask = z.infer<typeof askSchema>

export const flipSchema = z.strictObject({
  reading: z.string(),
  field: z.string(),
  value: valueSchema,
  /** Were it this value, the verdict would be `verdict` (null: there would be no such finding). */
  instead: valueSchema,
  verdict: z.nullable(z.string()),
  quote: z.string(),
})

export const eventSchema = z.strictObject({
  event: z.string(),
  earliest: isoDate,
  likely: isoDate,
  latest: isoDate,
})
export type Event = z.infer<typeof eventSchema>

export const amountSchema = z.strictObject({
  what: z.string(),
  low: z.number(),
  likely: z.number(),
  high: z.number(),
  unit: z.string(),
})
export type Amount = z.infer<typeof amountSchema>

const shared = {
  rule: z.string(),
  title: z.string(),
  place: placeSchema,
  /** It rests on a reading that is not `sure`, or another plausible value of one would change it. */
  provisional: z.boolean(),
  says: z.strictObject({ what: z.string(), why: z.string(), next: z.string() }),
  restsOn: z.array(groundSchema),
  missing: z.array(askSchema),
  flips: z.array(flipSchema),
  dates: z.array(eventSchema),
  amounts: z.array(amountSchema),
  cautions: z.array(z.string()),
  sources: z.array(z.string()),
}
const findingOf = <K extends Kind>(kind: K) =>
  z.strictObject({ ...shared, kind: z.literal(kind), verdict: z.enum(verdictsOf[kind]) })

export const findingSchema = z.discriminatedUnion('kind', [
  findingOf('ready'),
  findingOf('alarm'),
  findingOf('when'),
  findingOf('howMuch'),
])
export type Finding = z.infer<typeof findingSchema>

const weights: Record<string, number> = { none: 0, 'cannot tell': 1, watch: 2, act: 3, urgent: 4 }
/** How grave an alarm's verdict is: 0 (none) to 4 (urgent). Not knowing weighs more than knowing that all is well. */
export const gravity = (verdict: string): number => weights[verdict] ?? 0
