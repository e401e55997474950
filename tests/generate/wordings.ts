import { readFileSync } from 'node:fs'
import { phraseLines } from '../phrases.ts'
import type { Fact } from './season.ts'

/**
 * How facts are said. `{n}` is the number, `{n frames}` the number with its noun, `{w}` the word. A line may say several
 * facts at once. Beside these, every line of fixtures/phrases/wordings.txt is used whose facts all hold.
 */
const BY_FIELD: Record<string, readonly string[]> = {
  'weather.temperature': [
    "it's about {n} degrees",
    '{n} degrees',
    'temperature is {n} degrees',
    'around {n} celsius today',
    'the thermometer says {n} degrees',
  ],
  'weather.sky=clear': ['sunny', 'clear sky', 'blue sky', "sun's out"],
  'weather.sky=partlyCloudy': ['partly cloudy', 'some cloud about', 'sunny spells'],
  'weather.sky=overcast': ['overcast', 'cloudy', 'grey sky', "it's overcast"],
  'weather.wind=calm': ['no wind', 'not a breath of wind', 'calm day, no wind'],
  'weather.wind=breezy': ['light breeze', 'a bit of a breeze', 'breezy'],
  'weather.wind=windy': ['windy', 'quite windy', 'strong wind'],
  'temperament=calm': [
    'calm',
    'nice and calm',
    'gentle bees',
    "they're calm",
    'very gentle today',
    'quiet on the comb',
  ],
  'temperament=restless': ['a bit runny on the comb', 'restless', 'flighty', 'nervous today', "they're running about"],
  'temperament=defensive': ['a bit defensive', "they're following me", 'bumping the veil', 'slightly defensive today'],
  'temperament=aggressive': ['aggressive', 'really hot today', 'very aggressive', 'boiling out at me', 'vicious today'],
  'population=weak': ['weak colony', 'this one is weak', 'not many bees', 'rather weak'],
  'population=moderate': ['moderate strength', 'medium strength', 'average colony'],
  'population=strong': ['strong colony', 'nice and strong', 'plenty of bees', 'good strong hive'],
  'population=crowded': ['packed with bees', 'bursting with bees', 'overcrowded', 'boiling over with bees'],
  'frames.bees': ['{n frames} of bees', 'bees on {n frames}', 'bees covering {n frames}', 'bees, {n frames}'],
  'seams.bees': ['{n seams} of bees', 'bees in {n seams}'],
  'frames.brood': [
    '{n frames} of brood',
    'brood on {n frames}',
    '{n frames} of brood all up',
    "I've got {n frames} of brood",
    'brood, {n frames}',
    'so {n frames} of brood in total',
  ],
  'eggs.present=yes': ['eggs', 'I can see eggs', 'saw eggs', "there's eggs", 'fresh eggs', 'eggs present', 'got eggs'],
  'eggs.present=no': ['no eggs', "I can't see any eggs", 'no sign of eggs', "there's no eggs", 'did not see eggs'],
  'larvae.present=yes': ['larvae', 'young larvae', 'larvae in all sizes', "there's larvae", 'plenty of larvae'],
  'larvae.present=no': ['no larvae', 'no larvae either', "can't see any larvae"],
  'cappedBrood.present=yes': ['capped brood', 'sealed brood', 'plenty of capped brood', "there's sealed brood"],
  'brood.pattern=solid': ['nice solid pattern', 'good brood pattern', 'lovely tight pattern', 'solid brood pattern'],
  'brood.pattern=spotty': ['patchy brood', 'brood is a bit spotty', 'spotty pattern', 'pattern a bit patchy'],
  'queen.seen=yes': ['queen seen', 'saw the queen', "there's the queen", 'found the queen', 'I can see the queen'],
  'queen.seen=no': ["didn't see the queen", 'queen not seen', "couldn't find the queen", 'no sight of the queen'],
  'queen.marked=yes': ["she's marked", 'marked queen', 'she has her mark'],
  'queen.marked=no': ["she's not marked", 'unmarked queen', 'no mark on her'],
  'queen.markColour': ['{w} dot', 'marked {w}', 'with a {w} dot'],
  'queenCells.present=no': ['no queen cells', 'no sign of queen cells', 'no cells', "didn't see any queen cells"],
  'queenCups.count': ['{n queen cups}', '{n play cups}'],
  'frames.honey': ['{n frames} of honey', '{n frames} of stores', 'honey on {n frames}', 'honey, {n frames}'],
  'frames.pollen': ['{n frames} of pollen', 'pollen on {n frames}'],
  'stores.level=none': ['no stores at all', 'stores are gone', 'nothing left in stores'],
  'stores.level=low': ['stores are low', 'light on stores', 'not much in the way of stores', 'low on stores'],
  'stores.level=adequate': ['stores are fine', 'enough stores', 'stores are ok', 'adequate stores'],
  'stores.level=plentiful': ['plenty of stores', 'heavy with stores', 'loads of stores', 'stores are plentiful'],
  'pest.smallHiveBeetle.level=none': ['no beetles', 'no hive beetles', 'not a beetle in sight'],
  'pest.smallHiveBeetle.level=few': ['a few beetles', 'a handful of hive beetles', 'the odd beetle'],
  'pest.smallHiveBeetle.level=some': ['some beetles', 'a fair few beetles', 'some hive beetle'],
  'pest.smallHiveBeetle.level=many': ['loads of beetles', 'lots of hive beetles', 'crawling with beetles'],
  'pest.smallHiveBeetle.count': ['{n beetles}', '{n hive beetles}', 'counted {n beetles}', 'I saw {n beetles}'],
  'pest.wasps.level=few': ['a few wasps', 'the odd wasp at the entrance'],
  'pest.wasps.level=many': ['lots of wasps', 'loads of wasps at the entrance'],
  'pest.ants.level=some': ['some ants under the lid', 'some ants on the crown board'],
  'sign.chalkbrood=yes': ['some chalkbrood', 'a bit of chalkbrood', 'a few chalkbrood mummies'],
  'sign.burrComb=yes': ['burr comb under the lid', 'lots of burr comb', 'some brace comb'],
  'sign.deformedWings=yes': ['saw deformed wings', 'a bee with deformed wings', 'some with crumpled wings'],
  'sign.bearding=yes': ["they're bearding", 'bearding on the front'],
  'sign.dysentery=yes': ['signs of dysentery', 'dysentery streaks on the front'],
  'did.addBox=yes': ['added a super', 'put a super on', "I've put another super on", 'gave them a super'],
  'todo.addBox=yes': ['needs a super', 'this one needs another super', "I'll need to put a super on next time"],
  'did.takeHoney': ['took {n frames} of honey', 'took off {n frames} of honey', 'pulled {n frames} of honey'],
  'did.addTrap=yes': ['put a beetle trap in', 'added a beetle trap'],
  'did.reduceEntrance=yes': ['reduced the entrance', "I've reduced the entrance", 'closed the entrance down'],
  'todo.requeen=yes': ['needs requeening', "I'll requeen this one", 'this one wants a new queen'],
}

/** Several facts of one colony in one breath. */
const TOGETHER: readonly { readonly facts: readonly string[]; readonly said: readonly string[] }[] = [
  {
    facts: ['queenCells.count', 'queenCells.kind=swarm', 'queenCells.stage=capped'],
    said: ['{n capped swarm cells}', '{n swarm cells}, capped', 'found {n swarm cells}, all sealed'],
  },
  {
    facts: ['mites.count', 'mites.sampleBees', 'mites.method=alcoholWash'],
    said: [
      'did an alcohol wash, {n mites} from 300 bees',
      'alcohol wash on 300 bees gave {n mites}',
      'mite wash, 300 bees, {n mites}',
    ],
  },
  {
    facts: ['mites.count', 'mites.sampleBees', 'mites.method=sugarRoll'],
    said: ['sugar roll, {n mites} from 300 bees', 'did a sugar roll on 300 bees, {n mites}'],
  },
  {
    facts: ['did.feed', 'did.feed.kind=syrup1to1'],
    said: ['gave them {n litres} of one to one', 'fed {n litres} of one to one syrup'],
  },
  {
    facts: ['did.feed', 'did.feed.kind=syrup2to1'],
    said: ['gave them {n litres} of two to one', 'fed {n litres} of two to one syrup'],
  },
  ...(
    [
      ['oxalicAcid', 'oxalic acid'],
      ['formicAcid', 'formic acid'],
      ['thymol', 'thymol'],
      ['amitraz', 'amitraz strips'],
    ] as const
  ).map(([kind, name]) => ({
    facts: ['did.treat=yes', `did.treat.kind=${kind}`],
    said: [`treated with ${name}`, `gave them ${name}`, `I've treated them with ${name}`],
  })),
  { facts: ['eggs.present=yes', 'larvae.present=yes'], said: ['eggs and larvae', "there's eggs and larvae"] },
  {
    facts: ['eggs.present=yes', 'larvae.present=yes', 'cappedBrood.present=yes'],
    said: ['eggs, larvae and capped brood', 'brood in all stages'],
  },
  { facts: ['eggs.present=no', 'larvae.present=no'], said: ['no eggs or larvae', 'no eggs, no larvae'] },
]

/** A frame in hand; `{f}` is its number. */
export const FRAME_CALLS = ['frame {f}', 'frame number {f}', 'ok, frame {f}', 'on frame {f}'] as const
export const FRAME_HOLDS: Record<string, readonly string[]> = {
  honey: ['honey', 'all honey', 'honey both sides'],
  nectar: ['nectar', 'just nectar', 'some nectar'],
  pollen: ['pollen', 'mostly pollen', 'a lot of pollen'],
  empty: ['empty', 'empty comb', 'drawn but nothing in it'],
  eggs: ['eggs', 'I can see eggs', 'eggs here'],
  larvae: ['larvae', 'young larvae', 'larvae here'],
  cappedBrood: ['capped brood', 'sealed brood', 'solid capped brood'],
}
/** `{a}` and `{b}`: percent of the two sides. */
export const CAPPED = [
  '{a} percent capped on this side, {b} percent on the other',
  '{a} percent capped. Other side, {b} percent',
  "this side's {a} percent capped, other side {b} percent capped",
] as const

/** What is no reading: teaching, plans in general, earlier visits, chatter. */
export const ASIDES = [
  'you want to see at least one frame of eggs at this time of year',
  'eggs hatch after three days, remember',
  'a small number of beetles is nothing to worry about',
  'if I find cells I split them',
  'last year we had a terrible spring',
  'the smoker went out again',
  'I should have brought the other gloves',
  'mind the nettles there',
  'a strong colony can fill a super in a week on the clover',
  'the dog is after the ball again',
  'they say it will rain tomorrow',
  'let me put the lid down',
] as const

export interface Wording {
  readonly facts: readonly string[]
  readonly said: string
}

/** `field=value`, as the keys of these tables are written. */
export const keyOf = ({ field, value }: Pick<Fact, 'field' | 'value'>): string => `${field}=${value}`

/** Lines of the table of wordings that state facts of one colony. */
function tableWordings(): Wording[] {
  const text = readFileSync(new URL('../../fixtures/phrases/wordings.txt', import.meta.url), 'utf8')
  return phraseLines(text).flatMap(({ said, facts }) => {
    const own = facts.map((fact) => fact.split('|'))
    const isPlain = own.every(
      ([hive, field, value]) => hive === '' && !/^(visit|weather|forage|frame|todo|honey|comb)/.test(field!) && value,
    )
    if (facts.length === 0 || !isPlain) return []
    return [{ said: said.replace(/\.$/, ''), facts: own.map(([, field, value]) => `${field}=${value}`) }]
  })
}

/** The table's own lines that are no reading at all. */
export function tableAsides(): string[] {
  const text = readFileSync(new URL('../../fixtures/phrases/wordings.txt', import.meta.url), 'utf8')
  return phraseLines(text).flatMap(({ said, facts }) => (facts.length === 0 ? [said.replace(/\.$/, '')] : []))
}

const lines: Wording[] = [
  ...Object.entries(BY_FIELD).flatMap(([key, list]) => list.map((said) => ({ said, facts: [key] }))),
  ...TOGETHER.flatMap(({ facts, said }) => said.map((one) => ({ said: one, facts }))),
]
const index = new Map<string, Wording[]>()
for (const line of [...lines, ...tableWordings()])
  for (const key of line.facts) index.set(key, [...(index.get(key) ?? []), line])

/** Every way to say a fact whose other facts hold too. A key without a value is that of a number or word in braces. */
export function wordingsFor(fact: Fact, holds: ReadonlySet<string>): readonly Wording[] {
  const known = [...(index.get(keyOf(fact)) ?? []), ...(index.get(fact.field) ?? [])]
  return known.filter((one) => one.facts.every((key) => holds.has(key)))
}
