const CLASSES: Readonly<Record<string, string>> = {
  be: "is 's was are were looks look seems feels",
  have: 'has had have got gets get wants needs',
  at: 'in on from for of at with off by under near beside behind inside into about than like',
  towards: 'to onto over across back',
  det: 'the a an this that my your his her their our these those its another other each every',
  who: 'i we they she he it you',
  order: 'next then now first last lastly finally again also too second third still',
  join: 'and but so or because cos which who while',
  lead: 'right okay ok well alright oh yeah yep yes um uh er anyway',
  closer: 'done finished closed shut sorted over good fine checked',
  not: 'no not nothing none never without neither',
  frame: 'frame frames comb combs seam seams bar bars side sides',
  unit: 'percent degrees days day weeks week months years year kilos kilo pounds pound litres litre liters liter pints pint gallons gallon grams minutes hours inches feet metres ml jars hundred thousand point dozen half quarter',
  pest: 'mites mite beetles beetle moth moths mummies dead cells cell cups cup',
  box: 'box boxes super supers deep deeps single double',
  hive: 'hive hives colony colonies nuc nucs number stand pallet swarm split',
  state:
    'strong weak light heavy calm quiet busy cross hot booming queenless spotty empty lovely nice big small little full packed',
  brood: 'brood eggs larvae bees queen honey stores pollen nectar temper',
  do: 'gave give put took take fed feed added add moved move left leave need want did do',
  see: 'saw see seen found find counted count checked check opened open looked look',
  num: 'one two three four five six seven eight nine ten eleven twelve twenty thirty forty fifty',
}
const BY_WORD = new Map(
  Object.entries(CLASSES).flatMap(([name, words]) => words.split(' ').map((word) => [word, name] as const)),
)

/** The sort of word that stands beside a call, in few sorts: what is known of a sort holds for words that are seldom met. */
export function classOf(norm: string): string {
  if (norm === '<' || norm === '>') return norm
  return BY_WORD.get(norm) ?? (/^\d/.test(norm) ? 'num' : 'else')
}
