import { isTradeWord as defaultTradeWord } from './trade-words.ts'

const GENERIC = /^[ \t]*(?:[[(]?(?:speaker|spk|sprecher)[ _-]?([\w?]{1,4})[\])]?)[ \t]*:[ \t]*/i
const BRACKETED = /^[ \t]*[[(]speaker[ _-]?([\w?]{1,4})[\])][ \t]+/i
const NAMED = /^[ \t]*\[?([\p{Lu}][\p{L}'’.-]{0,20}(?: [\p{Lu}][\p{L}'’.-]{0,20}){0,2})\]?:[ \t]+(?=\S)/u

/**
 * The names that label turns in this text. `Queen: seen` and `Hive 3: strong` look the same as `Ann: seen`, so
 * one name has to come at least twice, and a text with a trade word for a heading has no names at all.
 */
export function speakerNames(text: string, isTradeWord = defaultTradeWord): ReadonlySet<string> {
  const counts = new Map<string, number>()
  for (const match of text.matchAll(new RegExp(NAMED.source, 'gmu'))) {
    const name = match[1]!
    if (/^speaker\b/i.test(name)) continue
    if (name.split(' ').some((word) => isTradeWord(word.toLowerCase()))) return new Set()
    counts.set(name, (counts.get(name) ?? 0) + 1)
  }
  return [...counts.values()].some((count) => count >= 2) ? new Set(counts.keys()) : new Set()
}

/** The label at the start of a line and how much of the line it takes, blank space included. */
export function labelAt(line: string, names: ReadonlySet<string>): { speaker: string; length: number } | undefined {
  const generic = GENERIC.exec(line) ?? BRACKETED.exec(line)
  if (generic) return { speaker: generic[0].trim().replace(/[:[\]()]/g, ''), length: generic[0].length }
  const named = NAMED.exec(line)
  return named && names.has(named[1]!) ? { speaker: named[1]!, length: named[0].length } : undefined
}
