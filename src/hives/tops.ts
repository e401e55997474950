import { Layered } from './layered.ts'

/*
 * How likely each label calls a hive where the net of calls finds it likeliest: a word that stands just once where hives are called
 * may be meant wherever it is said, and one that never does is hardly a hive's name.
 */
export interface Tops {
  /** The two highest odds of each label, in whole steps. */
  readonly of: Layered<readonly [top: number, second: number]>
  /** The highest of all, and how many labels come to STRONG. */
  best: number
  strong: number
}

/** Odds from which a label is likely a hive's. */
const STRONG = 2
/** Lower than any odds. */
const NONE = -9

export const newTops = (): Tops => ({ of: new Layered(), best: NONE, strong: 0 })
export const topsOnTop = (tops: Tops): Tops => ({ ...tops, of: new Layered(tops.of) })

/** Takes in one more call, with its odds in whole steps. */
export function addTop(tops: Tops, label: string, odds: number): void {
  const [top, second] = tops.of.get(label) ?? [NONE, NONE]
  if (odds <= second) return
  tops.of.set(label, odds > top ? [odds, top] : [top, odds])
  if (odds >= STRONG && top < STRONG) tops.strong++
  tops.best = Math.max(tops.best, odds)
}

/** What the odds of a call tell beside those of the other calls of the note. */
export function cuesOfTop(tops: Tops, label: string, odds: number): string[] {
  const [top, second] = tops.of.get(label) ?? [odds, NONE]
  const number = /\d/.test(label) ? 'n ' : ''
  const strong = Math.min(5, tops.strong - (top >= STRONG ? 1 : 0))
  return [
    `${number}top ${top}`,
    `${number}top2 ${second}`,
    top === tops.best ? 'is top' : `below top ${Math.min(6, tops.best - top)}`,
    `strong ${strong}`,
    `strong ${strong} top ${top}`,
    odds === top ? 'own top' : `own ${Math.min(5, top - odds)}`,
  ]
}
