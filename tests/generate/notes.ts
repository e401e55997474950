import { ToWords } from 'to-words'
import { type Chance, chanceOf } from './chance.ts'
import { type Fact, type HiveVisit, seasonOf, type Visit } from './season.ts'
import { VOICES, type Voice } from './voices.ts'
import { ASIDES, CAPPED, FRAME_CALLS, FRAME_HOLDS, keyOf, tableAsides, wordingsFor } from './wordings.ts'

/** A label as fixtures/corpus/GUIDE.md describes it. */
export interface Label {
  readonly hive: string
  readonly field: string
  readonly value: string | number
  readonly quote: string
  readonly frame?: number
  readonly side?: 'A' | 'B'
}

export interface GeneratedNote {
  /** The file's name without its ending. */
  readonly note: string
  readonly ending: 'txt' | 'srt'
  /** ISO date of the visit; said, in the file's name or the file's own date. */
  readonly date: string
  readonly style: string
  readonly text: string
  readonly facts: readonly Label[]
  readonly optional: readonly Label[]
}

const VISITS = 14

/** `count` notes of invented yards, a season each, in the order of yards and days. The same seed gives the same notes. */
export function* generatedNotes(count: number, seed = 'combscribe'): Generator<GeneratedNote> {
  let made = 0
  for (let yard = 1; made < count; yard++) {
    const chance = chanceOf(`${seed}:${yard}`)
    const voice = chance.one(VOICES)
    for (const visit of seasonOf(`${seed}:${yard}`, 2020 + (yard % 6), VISITS)) {
      if (made++ === count) return
      yield noteOf(visit, yard, voice, chance)
    }
  }
}

function noteOf(visit: Visit, yard: number, voice: Voice, chance: Chance): GeneratedNote {
  const speech = new Speech(voice, chance)
  speech.say(chance.one(voice.opens))
  if (chance.hit(voice.says))
    speech.say(`it's ${spokenDay(visit.date, voice)}`, [{ hive: '', field: 'visit.date', value: visit.date }])
  for (const fact of visit.facts) if (chance.hit(0.5)) speech.state('', fact, new Set([keyOf(fact), fact.field]))
  for (const hive of visit.hives) sayHive(speech, hive, voice, chance)
  speech.say(chance.one(voice.closes))
  const isNamed = chance.hit(0.7)
  const number = String(yard).padStart(4, '0')
  return {
    note: isNamed ? `${visit.date}-yard-${number}` : `memo-${number}-${visit.date.slice(5, 7)}${visit.date.slice(8)}`,
    ending: voice.writing === 'punctuated' && chance.hit(0.15) ? 'srt' : 'txt',
    date: visit.date,
    style: voice.name,
    text: speech.text(),
    facts: speech.facts,
    optional: speech.optional,
  }
}

function sayHive(speech: Speech, { label, facts, frames }: HiveVisit, voice: Voice, chance: Chance): void {
  const said = label.replace(/\d+/, (digits) => numberSaid(Number(digits), voice))
  const isNamed = !/^\d+$/.test(label)
  // "The blue hive", "nuc two": only what is a number takes "hive" before it.
  speech.say(
    isNamed ? (label.startsWith('nuc') ? said : `the ${said} hive`) : chance.one(voice.calls).replace('{h}', said),
  )
  const holds = new Set(facts.flatMap((fact) => [keyOf(fact), fact.field]))
  const open = new Set(facts)
  for (const fact of facts) {
    if (!open.has(fact)) continue
    const done = speech.state(label, fact, holds, facts)
    for (const other of facts) if (done.has(keyOf(other)) || done.has(other.field)) open.delete(other)
    if (chance.hit(voice.asides)) speech.say(chance.one([...ASIDES, ...asides]))
  }
  for (const { frame, facts: own } of frames) speech.frame(label, frame, own)
}

const asides = tableAsides()

/** The text as it grows, and what it says. */
class Speech {
  private readonly parts: string[] = []
  readonly facts: Label[] = []
  readonly optional: Label[] = []

  constructor(
    private readonly voice: Voice,
    private readonly chance: Chance,
  ) {}

  say(words: string, labels: readonly Omit<Label, 'quote'>[] = []): void {
    const { voice, chance } = this
    const filler = chance.hit(voice.filling) ? `${chance.one(voice.fillers)}, ` : ''
    const whole = `${filler}${words}`
    const sentence = `${whole.charAt(0).toUpperCase()}${whole.slice(1)}${/[.!?]$/.test(whole) ? '' : '.'}`
    this.parts.push(voice.writing === 'bare' ? bare(sentence) : sentence)
    for (const label of labels) this.facts.push({ ...label, quote: this.quoted(words) })
  }

  private quoted(words: string): string {
    return this.voice.writing === 'bare' ? bare(words) : words
  }

  /** States a fact, and with it what its wording says besides. Gives the keys that were said. */
  state(hive: string, fact: Fact, holds: ReadonlySet<string>, all: readonly Fact[] = [fact]): ReadonlySet<string> {
    const { chance } = this
    const ways = wordingsFor(fact, holds)
    // What is said only in company (a sample's size) waits for it.
    if (ways.length === 0) return new Set([keyOf(fact)])
    const { said, facts: keys } = chance.one(ways)
    const stated = all.filter((one) => keys.includes(keyOf(one)) || keys.includes(one.field))
    const braced = stated.find(({ field }) => keys.includes(field)) ?? fact
    const words = this.fill(said, braced)
    this.say(
      words,
      stated.map(({ field, value }) => ({ hive, field, value })),
    )
    for (const { field, value } of stated) this.implied(hive, field, value, words)
    return new Set(keys)
  }

  /** A frame in hand, what it holds, and how much of it is capped. */
  frame(hive: string, frame: number, facts: readonly Fact[]): void {
    const { chance, voice } = this
    const call = chance.one(FRAME_CALLS).replace('{f}', numberSaid(frame, voice))
    for (const { field, value } of facts) {
      if (field !== 'frame.holds') continue
      const words = `${call}, ${chance.one(FRAME_HOLDS[String(value)]!)}`
      this.say(words, [{ hive, frame, field, value }])
      const presence = { eggs: 'eggs.present', larvae: 'larvae.present', cappedBrood: 'cappedBrood.present' }[
        String(value)
      ]
      const isSaid = this.facts.some((one) => one.hive === hive && one.field === presence)
      if (presence && !isSaid) this.facts.push({ hive, field: presence, value: 'yes', quote: this.quoted(words) })
      if (value === 'cappedBrood')
        this.optional.push({ hive, field: 'brood.pattern', value: 'solid', quote: this.quoted(words) })
    }
    const [a, b] = (['A', 'B'] as const).map((side) =>
      facts.find((fact) => fact.field === 'honey.cappedPercent' && fact.side === side),
    )
    if (!a || !b) return
    const shown = (fact: Fact) => numberSaid(Number(fact.value), voice)
    const words = chance.one(CAPPED).replace('{a}', shown(a)).replace('{b}', shown(b))
    this.say(
      words,
      [a, b].map(({ field, value, side }) => ({ hive, frame, field, value, side: side! })),
    )
  }

  /** What two careful people could differ on. */
  private implied(hive: string, field: string, value: string | number, quote: string): void {
    const add = (other: string, means: string | number) =>
      this.optional.push({ hive, field: other, value: means, quote: this.quoted(quote) })
    if (field === 'queenCells.count') add('queenCells.present', 'yes')
    if (field === 'queenCups.count') add('queenCups.present', 'yes')
    if (field === 'queen.markColour') add('queen.marked', 'yes')
    if (field === 'mites.count') {
      add('did.testMites', 'yes')
      add('pest.varroa.count', value)
    }
    if (field === 'did.addTrap') add('did.addTrap', 1)
    if (field === 'did.addBox') add('did.addBox', 1)
    if (field === 'did.feed') add('did.feed', 'yes')
  }

  private fill(said: string, { value }: Fact): string {
    const { chance, voice } = this
    const amount = (number: number, noun: string) =>
      `${numberSaid(number, voice)} ${number === 1 ? single(noun) : noun}`
    return said.replace('{w}', String(value)).replace(/\{n(?: ([^}]+))?\}/, (_, noun?: string) => {
      const number = Number(value)
      if (!noun) return numberSaid(number, voice)
      if (number < 2 || !chance.hit(voice.slips)) return amount(number, noun)
      return `${numberSaid(number - 1, voice)}, ${chance.one(['no sorry', 'sorry', 'no'])}, ${amount(number, noun)}`
    })
  }

  text(): string {
    return this.parts.join(' ')
  }
}

const single = (noun: string) => noun.replace(/s$/, '')

const toWords = new ToWords()
const numberSaid = (number: number, { numbers }: Voice): string =>
  numbers === 'figures' ? String(number) : toWords.convert(number).toLowerCase()

const MONTHS = 'January February March April May June July August September October November December'.split(' ')

function spokenDay(date: string, voice: Voice): string {
  const [, month, day] = date.split('-').map(Number) as [number, number, number]
  const ordinal = toWords.toOrdinal(day).toLowerCase()
  const name = MONTHS[month - 1]!
  return voice.numbers === 'figures' ? `${day} ${name}` : `the ${ordinal} of ${name}`
}

const bare = (text: string) =>
  text
    .toLowerCase()
    .replace(/[.,!?;:](?=\s|$)/g, '')
    .replace(/\s+/g, ' ')
    .trim()
