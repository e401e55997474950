// Names that keepers may give their hives, made up of words: told notes mostly call hives by one word or a number.
const list = (words) => words.trim().split(/\s+/)

const KINDS = list(`
  red green blue yellow white black orange purple pink grey silver gold old new big little tall long short wee front back top bottom left
  right far near north south east west upper lower broken leaning crooked wobbly mossy sunny shady cold windy lucky mad apple cherry plum
  walnut oak ash pine willow hazel holly elder rose clover turf river pond well stable barn garden kitchen chapel church school orchard
  meadow valley hill quarry mill bridge station harbour lane ditch paddock stock feed tool wood hen goat pig horse cow sheep dog cat fox
  owl crow swan lilly saint aunt uncle sister brother grand captain lady lord`)
const THINGS = list(`
  door gate post stump tree wall shed barn corner hedge fence roof box stand pallet stone rock bench table garden yard field end side row
  bush grove top bottom line path pond creek river bank bridge house cottage cabin cart wagon trailer tractor trough barrel bucket bell
  lamp light star moon sun boat anchor wheel crown castle tower rose lily nell jack jill tom sue bea mary george annie betty bob kate
  pearl ruby rex max duke pilly ridge hollow dip slope terrace step steps pier nook`)
const SPELLED = list(`
  alpha bravo charlie delta echo foxtrot golf hotel india juliet kilo lima mike november oscar papa romeo sierra tango victor whiskey
  yankee zulu`)
const PEOPLE = list('dad mum gran grandad nan ted rosie milly hannah peter')
const NUMBERED = list('row stand pallet bench box line shelf rail block top upper lower bait trap unit stack tower')
const STANDS = list('stand row pallet bench line')
export const NUMBERS = list('one two three four five six seven eight nine ten eleven twelve')
const LETTERS = [...'abcdefghjklmn']

/** Of a hundred names so many go as each of these says. */
const WAYS = [
  [45, (one) => [one(KINDS), one(THINGS)]],
  [10, (one) => [one(THINGS)]],
  [10, (one) => [one(SPELLED), one(NUMBERS)]],
  [10, (one) => [one(LETTERS), one(NUMBERS)]],
  [7, (one) => [one(NUMBERS), one(LETTERS)]],
  [4, (one) => [one(NUMBERED), one(NUMBERS)]],
  [2, (one) => ['catch', 'box', one(NUMBERS)]],
  [5, (one) => [one(STANDS), one(NUMBERS), one(LETTERS)]],
  [4, (one) => [one(PEOPLE), "'s"]],
  // a number beyond twelve
  [3, () => ['##']],
]

/** The words of a made-up name. */
export function madeName(random) {
  const one = (words) => words[Math.floor(random() * words.length)]
  let left = random() * 100
  for (const [share, way] of WAYS) {
    left -= share
    if (left < 0) return way(one)
  }
  return [one(THINGS)]
}
