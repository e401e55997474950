import type { Vocabulary } from './vocabulary.ts'

/** The parts of the grammar that both notations spell: what a short dictated phrase can be. */
interface Rules {
  readonly number: readonly string[]
  readonly place: readonly string[]
  readonly unit: readonly string[]
  readonly thing: readonly string[]
  readonly state: readonly string[]
  readonly phrase: readonly string[]
  readonly name: readonly string[]
}

const NUMBERS =
  'one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred half'.split(
    ' ',
  )

/** Letters, digits and apostrophes only: everything else has a meaning in one notation or the other. */
const plain = (said: string): string =>
  said
    .toLowerCase()
    .replace(/’/g, "'")
    .replace(/[^\p{L}\p{N}' ]+/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim()

/**
 * The grammar's rules. With `known`, the words of the recogniser's dictionary, phrases with other words are left out and
 * given as `unknown`: a recogniser refuses a whole grammar for one word that it cannot pronounce.
 */
export function rulesOf(
  { names, phrases, things }: Vocabulary,
  known?: ReadonlySet<string>,
): { rules: Rules; unknown: string[] } {
  const unknown = new Set<string>()
  const sayable = (list: readonly string[]): string[] =>
    [...new Set(list.map(plain))].filter((phrase) => {
      const missing = phrase.split(' ').filter((word) => known && !known.has(word))
      for (const word of missing) unknown.add(word)
      return phrase !== '' && missing.length === 0
    })
  return {
    rules: {
      number: sayable(NUMBERS),
      place: sayable(['hive', 'hive number', 'frame', 'box', 'super', 'frame number']),
      unit: sayable(['frames of', 'frame of', 'combs of', 'seams of', 'sides of', 'percent']),
      thing: sayable(things),
      state: sayable(['no', 'saw', 'seen', 'found', 'not', 'some', 'plenty of', 'a few']),
      phrase: sayable(phrases.slice(0, 120)),
      name: sayable(names),
    },
    unknown: [...unknown],
  }
}

/** The rules that have words, and how a note is put together of them. */
function shapeOf({ name, ...rest }: Rules): { lists: [string, readonly string[]][]; turns: string[][] } {
  const turns = [['place', 'number'], ['number', 'unit', 'thing'], ['state', 'thing'], ['phrase'], ['thing']]
  if (name.length > 0) turns.push(['name'])
  return { lists: Object.entries(name.length > 0 ? { ...rest, name } : rest), turns }
}

/** JSpeech Grammar Format 1.0 (W3C Note of 5 June 2000). */
export function jsgf(rules: Rules): string {
  const { lists, turns } = shapeOf(rules)
  const said = turns.map((turn) => turn.map((rule) => `<${rule}>`).join(' '))
  return `#JSGF V1.0 UTF-8 en;

grammar hive;

public <note> = (${said.join(' | ')})+;
${lists.map(([rule, list]) => `<${rule}> = ${list.join(' | ')};`).join('\n')}
`
}

const escaped = (said: string): string => said.replace(/&/g, '&amp;').replace(/</g, '&lt;')

/** Speech Recognition Grammar Specification 1.0, XML form (W3C Recommendation of 16 March 2004). */
export function srgs(rules: Rules): string {
  const { lists, turns } = shapeOf(rules)
  const ref = (rule: string): string => `<ruleref uri="#${rule}"/>`
  const rule = ([id, list]: [string, readonly string[]]): string => `  <rule id="${id}">
    <one-of>
${list.map((said) => `      <item>${escaped(said)}</item>`).join('\n')}
    </one-of>
  </rule>`
  return `<?xml version="1.0" encoding="UTF-8"?>
<grammar version="1.0" xmlns="http://www.w3.org/2001/06/grammar" xml:lang="en" mode="voice" root="note">
  <rule id="note" scope="public">
    <item repeat="1-">
      <one-of>
${turns.map((turn) => `        <item>${turn.map(ref).join('')}</item>`).join('\n')}
      </one-of>
    </item>
  </rule>
${lists.map(rule).join('\n')}
</grammar>
`
}
