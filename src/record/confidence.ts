import type { Flag } from './schema.ts'
import type { Draft } from './state.ts'
import fitted from './weights.json' with { type: 'json' }

/** A logistic model over features that a person can follow. Weights are log-odds; a feature that is 0 or absent adds nothing. */
export interface Model {
  /** Before any feature. */
  readonly base: number
  readonly features: Readonly<Record<string, number>>
  /** What kind of field it is, on top of the common model; and single fields on top of that. */
  readonly groups: Readonly<Record<string, number>>
  readonly fields: Readonly<Record<string, number>>
}

/**
 * A reading is right if what it says was said of some hive, and if it is this hive. The two go wrong for reasons of their
 * own, so each has a model, and the probability of a reading is their product. Both are fitted on labelled notes
 * (`npm run calibrate` writes `weights.json`).
 */
export interface Weights {
  readonly value: Model
  /** That the hive is right if the value is; what belongs to the whole visit has no hive. */
  readonly hive: Model
  /** Cuts on the probability: `sure` from here up, `check` from the second up, else `guess`. */
  readonly cuts: { readonly sure: number; readonly check: number }
}

export const WEIGHTS: Weights = fitted

const groups = new Map<string, string>()

/** Kinds of fields that are misread in like ways. */
export function groupOf(field: string): string {
  const known = groups.get(field)
  if (known !== undefined) return known
  const group = toldBy(field)
  groups.set(field, group)
  return group
}

function toldBy(field: string): string {
  if (/^(pest|mites)\./.test(field)) return 'pests'
  if (field.startsWith('did.')) return 'did'
  if (field.startsWith('todo.')) return 'todo'
  if (/^(frames|seams|boxes)\./.test(field)) return 'counts'
  if (/^(honey\.|comb\.|brood\.cover)/.test(field)) return 'percentages'
  if (field.startsWith('frame.')) return 'frames'
  if (/^(queen|eggs|larvae|cappedBrood|droneBrood|brood\.|layingWorkers)/.test(field)) return 'brood'
  return /^(visit|weather)/.test(field) || field === 'forage' ? 'visit' : 'colony'
}

const TELL_OF_DEEDS = ['nearPast', 'nearAhead', 'nearOthers', 'nearIf', 'cuePlan', 'noHiveYet', 'hiveBeside', 'firm']

/** What of a draft its features are made of. */
type Told = Pick<Draft, 'field' | 'value' | 'how' | 'features' | 'inNote'>

/** What sort of reading a draft is: features that count 1 each, its group and its field the last two. */
function sortsOf({ field, value, how, features, inNote }: Told): string[] {
  const out: string[] = []
  if (how !== 'stated') out.push(how)
  if (value === 'no' || value === 'none' || value === 0) out.push('saysNone')
  if (Array.isArray(value)) out.push('range')
  const group = groupOf(field)
  // what bodes ill for an observation may be just what belongs to a deed or a plan
  if (group === 'did' || group === 'todo')
    for (const name of TELL_OF_DEEDS) if (features[name] || inNote?.[name]) out.push(`${group} & ${name}`)
  out.push(`group ${group}`, `field ${field}`)
  return out
}

/** The features of a draft as the model takes them; a field and its group count 1 each. */
export function featuresOf(draft: Told): Record<string, number> {
  const out: Record<string, number> = {}
  for (const told of [draft.features, draft.inNote])
    for (const name in told) if (told[name] !== 0) out[name] = told[name]!
  for (const name of sortsOf(draft)) out[name] = 1
  return out
}

/** What the features of the words add, half by half: looked at again and again while a note is spoken, they stay the same. */
const saidSums = new WeakMap<Draft['features'], readonly number[]>()

/** The probability that a draft is right: `confidenceOf` its features. */
export function chanceOf(draft: Told): number {
  let sums = saidSums.get(draft.features)
  if (!sums) {
    sums = PARTS.map((part) => oddsOf(draft.features, WEIGHTS[part]))
    saidSums.set(draft.features, sums)
  }
  const sorts = sortsOf(draft)
  let chance = 1
  for (let i = sorts.includes('group visit') ? 1 : PARTS.length; i-- > 0; ) {
    const table = tableOf(WEIGHTS[PARTS[i]!])
    let odds = sums[i]!
    for (const name in draft.inNote) odds += (table.get(name) ?? 0) * draft.inNote[name]!
    for (const name of sorts) odds += table.get(name) ?? 0
    chance *= sigmoid(odds)
  }
  return rounded(chance)
}

const PARTS = ['value', 'hive'] as const
export type Part = (typeof PARTS)[number]

const tables = new WeakMap<Model, ReadonlyMap<string, number>>()

/** The weights of a model by the names of features; a field and its group count 1 each. */
function tableOf(model: Model): ReadonlyMap<string, number> {
  let table = tables.get(model)
  if (!table) {
    const named = (before: string, weights: Readonly<Record<string, number>>) =>
      Object.entries(weights).map(([name, weight]) => [before + name, weight] as const)
    table = new Map([...named('', model.features), ...named('group ', model.groups), ...named('field ', model.fields)])
    tables.set(model, table)
  }
  return table
}

function weightOf(name: string, model: Model): number {
  return tableOf(model).get(name) ?? 0
}

const sigmoid = (x: number): number => 1 / (1 + Math.exp(-x))

/** The models that have a say in a reading with these features. */
const partsOf = (features: Readonly<Record<string, number>>): readonly Part[] =>
  features['group visit'] ? ['value'] : PARTS

function oddsOf(features: Readonly<Record<string, number>>, model: Model): number {
  const table = tableOf(model)
  let sum = model.base
  for (const name in features) sum += (table.get(name) ?? 0) * features[name]!
  return sum
}

/** The probability that a reading with these features is right, strictly between 0 and 1. */
export function confidenceOf(features: Readonly<Record<string, number>>, weights: Weights = WEIGHTS): number {
  let chance = 1
  for (const part of partsOf(features)) chance *= sigmoid(oddsOf(features, weights[part]))
  return rounded(chance)
}

const rounded = (chance: number): number => Math.min(0.999, Math.max(0.001, Math.round(chance * 1000) / 1000))

/** Why one half of a reading is as likely as it is. */
export interface Explanation {
  readonly part: Part
  readonly chance: number
  /** What each feature adds to the log-odds, the weightiest first, the base among them. */
  readonly adds: readonly { readonly name: string; readonly size: number; readonly adds: number }[]
}

/** What each feature adds, for the value and for its hive; the confidence is the product of their chances. */
export function explainConfidence(
  features: Readonly<Record<string, number>>,
  weights: Weights = WEIGHTS,
): Explanation[] {
  return partsOf(features).map((part) => {
    const model = weights[part]
    const adds = [{ name: 'base', size: 1, adds: model.base }]
    for (const [name, size] of Object.entries(features)) adds.push({ name, size, adds: weightOf(name, model) * size })
    adds.sort((a, b) => Math.abs(b.adds) - Math.abs(a.adds))
    return { part, chance: sigmoid(oddsOf(features, model)), adds }
  })
}

export const flagOf = (confidence: number, { cuts }: Weights = WEIGHTS): Flag =>
  confidence >= cuts.sure ? 'sure' : confidence >= cuts.check ? 'check' : 'guess'
