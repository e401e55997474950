import { readAmount } from '../language/amounts.ts'
import { Break, type Word } from '../language/word.ts'
import type { Mention } from '../reading/mention.ts'
import { put } from './emit.ts'
import { type Draft, latestOf } from './state.ts'
import { amountValue, type Turn, tellsNow } from './turn.ts'

/** In what feed is measured. */
const UNIT =
  /^(lit(re|er)s?|l|ml|millilit(re|er)s?|gallons?|quarts?|pints?|kilos?|kgs?|kilograms?|grams?|g|pounds?|lbs?|ounces?|oz|patty|patties|jars?|bags?|cups?|blocks?)$/
/** So many words around a feeding its measure may stand. */
const AROUND = 6

/**
 * How much was fed, with its unit: "two litres", "a gallon". A feeding whose line read another number ("gave three a litre") or none
 * gets the number that was measured.
 */
export function feedAmount(turn: Turn, mention: Mention, drafts: readonly Draft[], by: string): void {
  const fed = drafts.filter(({ field, value }) => /^did\.feed(\.kind)?$/.test(field) && value !== 'no')
  const first = fed[0]
  if (!first || !tellsNow(mention)) return
  const measured = measureNear(turn.utterance.words, mention)
  if (!measured) return
  const options = { hive: first.hive, how: first.how } as const
  const told = latestOf(turn.state, first.hive)
  const feed = fed.find(({ field }) => field === 'did.feed')
  if (feed && feed.value === measured.before) feed.value = measured.value
  if (!feed && !told.some(({ field }) => field === 'did.feed')) put(turn, 'did.feed', measured.value, by, options)
  const value = feed && feed.value !== 'yes' ? feed.value : measured.value
  const said = `${[value].flat().join(' to ')} ${measured.unit}`
  if (!told.some((draft) => draft.field === 'did.feed.amount' && draft.value === said))
    put(turn, 'did.feed.amount', said, by, options)
}

/** The last measure around a mention, in its clause; `before`: a number right before it that is none of it ("three a litre"). */
function measureNear(words: readonly Word[], { from, to }: Mention) {
  let [first, last] = [from, to]
  while (first > 0 && from - first < AROUND && words[first]!.brk < Break.soft) first--
  while (last < words.length && last - to < AROUND && words[last]!.brk < Break.soft) last++
  let found: { value: number | [number, number]; unit: string; before: number | undefined } | null = null
  let before: number | undefined
  for (let i = first; i < last; i++) {
    const isHalf = words[i]!.norm === 'half'
    const amount = readAmount(words, i)
    if (!amount && !isHalf && !/^an?$/.test(words[i]!.norm)) {
      before = undefined
      continue
    }
    let end = amount?.end ?? i + 1
    if (amount?.kind === 'integer' && /^an?$/.test(words[end]?.norm ?? '')) {
      before = amount.lo
      continue
    }
    if (/^(an?|of)$/.test(words[end]?.norm ?? '')) end++
    const unit = words[end]
    if (!unit || unit.brk >= Break.soft || !UNIT.test(unit.norm)) continue
    found = { value: amount ? amountValue(amount) : isHalf ? 0.5 : 1, unit: unit.norm, before }
    i = end
  }
  return found
}
