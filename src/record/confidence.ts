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

/** Kinds of fields that are misread in like ways. */
export function groupOf(field: string): string {
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

/** The features of a draft as the model takes them; a field and its group count 1 each. */
export function featuresOf(draft: Pick<Draft, 'field' | 'value' | 'how' | 'features'>): Record<string, number> {
  const out: Record<string, number> = {}
  for (const name in draft.features) if (draft.features[name] !== 0) out[name] = draft.features[name]!
  if (draft.how === 'carried') out.carried = 1
  if (draft.how === 'derived') out.derived = 1
  if (draft.value === 'no' || draft.value === 'none' || draft.value === 0) out.saysNone = 1
  if (Array.isArray(draft.value)) out.range = 1
  const group = groupOf(draft.field)
  // what bodes ill for an observation may be just what belongs to a deed or a plan
  if (group === 'did' || group === 'todo')
    for (const name of TELL_OF_DEEDS) if (out[name]) out[`${group} & ${name}`] = 1
  out[`group ${group}`] = 1
  out[`field ${draft.field}`] = 1
  return out
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
  return Math.min(0.999, Math.max(0.001, Math.round(chance * 1000) / 1000))
}

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
