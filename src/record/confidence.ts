import type { Flag } from './schema.ts'
import type { Draft } from './state.ts'
import fitted from './weights.json' with { type: 'json' }

/**
 * One probability a reading: a logistic model over features that a person can follow, with weights fitted on labelled
 * notes (`npm run calibrate` writes `weights.json`). A feature that is 0 or absent adds nothing. Weights are log-odds.
 */
export interface Weights {
  /** Before any feature. */
  readonly base: number
  readonly features: Readonly<Record<string, number>>
  /** What kind of field it is, on top of the common model; and single fields on top of that. */
  readonly groups: Readonly<Record<string, number>>
  readonly fields: Readonly<Record<string, number>>
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
  for (const [name, size] of Object.entries(draft.features)) if (size !== 0) out[name] = size
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

function weightOf(name: string, weights: Weights): number {
  if (name.startsWith('group ')) return weights.groups[name.slice(6)] ?? 0
  if (name.startsWith('field ')) return weights.fields[name.slice(6)] ?? 0
  return weights.features[name] ?? 0
}

const sigmoid = (x: number): number => 1 / (1 + Math.exp(-x))

/** The probability that a reading with these features is right, strictly between 0 and 1. */
export function confidenceOf(features: Readonly<Record<string, number>>, weights: Weights = WEIGHTS): number {
  let sum = weights.base
  for (const [name, size] of Object.entries(features)) sum += weightOf(name, weights) * size
  return Math.min(0.999, Math.max(0.001, Math.round(sigmoid(sum) * 1000) / 1000))
}

/** What each feature adds to the log-odds: name, size, contribution; the weightiest first, the base among them. */
export function explainConfidence(
  features: Readonly<Record<string, number>>,
  weights: Weights = WEIGHTS,
): [name: string, size: number, contribution: number][] {
  const out: [string, number, number][] = [['base', 1, weights.base]]
  for (const [name, size] of Object.entries(features)) out.push([name, size, weightOf(name, weights) * size])
  return out.sort((a, b) => Math.abs(b[2]) - Math.abs(a[2]))
}

export const flagOf = (confidence: number, { cuts }: Weights = WEIGHTS): Flag =>
  confidence >= cuts.sure ? 'sure' : confidence >= cuts.check ? 'check' : 'guess'
