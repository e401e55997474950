import type { Flag } from './schema.ts'
import type { Draft } from './state.ts'

/**
 * One probability a reading: a logistic model over a handful of features with weights set by hand until they are fitted
 * on labelled notes. A feature that is 0 or absent adds nothing. The weights are log-odds.
 */
export const WEIGHTS: Readonly<Record<string, number>> = {
  /** Before any feature: a plain statement in full words. */
  base: 3.4,
  /** How far a mishearing repair had to reach (0..1 a word). */
  repair: -1.2,
  hedged: -1.6,
  denied: -0.4,
  /** Taken from context rather than said outright. */
  carried: -0.8,
  derived: -0.3,
  /** A weak phrase (1 - weight of the grammar line). */
  weak: -3,
  /** A number word that is usually another word ("to frames"). */
  homophone: -1.5,
  /** Two numbers in a row taken for a range. */
  loose: -1.5,
  /** A number that replaced another. */
  revised: -0.4,
  /** A denial said over one frame and taken for the hive. */
  local: -1.5,
  /** Another value was said for the same thing and place. */
  conflict: -1.8,
  /** The same value was said again. */
  again: 0.6,
  /** 1 - the lowest word confidence of the engine. */
  unsureEngine: -3,
  /** The hive or frame in hand was named long ago. */
  far: -0.5,
  /** The hive's name was guessed. */
  guessedHive: -0.6,
}

/** Cuts on the probability: `sure` from here up, `check` from the second up, else `guess`. */
export const CUTS = { sure: 0.85, check: 0.5 } as const

const sigmoid = (x: number): number => 1 / (1 + Math.exp(-x))

/** The features of a draft as the model takes them. */
export function featuresOf(draft: Draft): Record<string, number> {
  const out: Record<string, number> = {}
  for (const [name, size] of Object.entries(draft.features)) {
    if (name === 'engine') out.unsureEngine = Math.round((1 - size) * 1000) / 1000
    else if (WEIGHTS[name] !== undefined) out[name] = size
  }
  if (draft.how === 'carried') out.carried = 1
  if (draft.how === 'derived') out.derived = 1
  return out
}

export function confidenceOf(features: Readonly<Record<string, number>>): number {
  let sum = WEIGHTS.base!
  for (const [name, size] of Object.entries(features)) sum += (WEIGHTS[name] ?? 0) * size
  return Math.round(sigmoid(sum) * 1000) / 1000
}

export const flagOf = (confidence: number): Flag => (confidence >= CUTS.sure ? 'sure' : confidence >= CUTS.check ? 'check' : 'guess')
