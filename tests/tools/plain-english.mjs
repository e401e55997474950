// Ordinary English without bees, made from a seed: sentence frames of everyday talk (home, work, weather, sport, travel,
// cooking, family, money), filled with the 5,000 most frequent words by the part of speech that compromise finds.
import { readFileSync } from 'node:fs'
import nlp from 'compromise'
import { randomFrom } from './random.mjs'

/** Words of the trade stay out, so that whatever is read was never said. */
const TRADE =
  /^(bees?|beetles?|hives?|queens?|honey|combs?|brood|eggs?|mites?|wasps?|ants?|moths?|mice|mouse|swarms?|frames?|cells?|drones?|nectar|pollen|supers?|wax|hornets?|colony|sugar|syrup|stings?|stung|sting|larvae|nest|workers?)$/

const FRAMES = [
  'I told my {n} that the {n} was {a} and she said {num} {ns} would be enough.',
  'We {v} to the {n} at {num} and there were {num} {ns} on the {n}.',
  'There is no {n} in the {n} but we found a {a} {n} yesterday.',
  'Have you seen the {n}? No, not since {day}.',
  'The {n} did not {v} the {n}, so I had to {v} it again.',
  'He gave {num} {ns} to his {n} and put the {n} back on the {n}.',
  'It was {a} and {a} outside, about {num} degrees, and the {ns} were {a}.',
  'They will {v} the {n} next week if the {n} is {a}.',
  'My {n} has {num} {ns}, half of them {a}.',
  'She took out the {a} {n} and added another {n}.',
  "I don't think the {n} is {a} enough, maybe {num} percent of it.",
  'Number {num} is {a}, number {num} is not.',
  'Everybody was {a} because the {n} came late and the {ns} were all gone.',
  'Do we need more {ns}? Yes, order {num} of them.',
  'The top {n} is full, the bottom one is empty.',
  'Well, you know, the {n} looks {a}, but nobody wants to {v} it.',
  'Plenty of {ns}, lots of {ns}, and a few {a} {ns} in the {n}.',
  "There's a {n} on the left side and {num} {ns} on the right.",
  'First we {v} the {n}, then we {v} the {ns}, and after {num} minutes we go home.',
  'I saw {num} {a} {ns} near the {n} this morning.',
  'You should {v} your {n} before it gets too {a}.',
  'Three weeks ago the {n} was {a}; today it is {a}.',
  'Can you {v} the {n} for me? I want to {v} it by {day}.',
  'the {n} seems {a} and quiet so we closed it up and left {num} {ns} there',
  "she wasn't in the {n} and her {n} was {a}, that's all I know",
  'No {ns} at all in the {a} {n}, none in the other.',
]
const DAYS = 'monday tuesday wednesday thursday friday saturday sunday'.split(' ')
const NUMBERS = 'one two three four five six seven eight nine ten twelve twenty fifty'.split(' ')

let bins
function wordBins(root) {
  if (bins) return bins
  const common = JSON.parse(readFileSync(new URL('grammar/en/common.json', root), 'utf8'))
  bins = { n: [], ns: [], v: [], a: [] }
  for (const word of common.flatMap((line) => line.split(' '))) {
    if (TRADE.test(word)) continue
    const tags = nlp(word).json()[0]?.terms?.[0]?.tags ?? []
    if (tags.includes('Plural')) bins.ns.push(word)
    else if (tags.includes('Singular')) bins.n.push(word)
    else if (tags.includes('Infinitive')) bins.v.push(word)
    else if (tags.includes('Adjective')) bins.a.push(word)
  }
  return bins
}

/** About `count` words of ordinary talk in paragraphs. */
export function plainEnglish(root, count, seed) {
  const random = randomFrom(seed)
  const one = (list) => list[Math.floor(random() * list.length)]
  const { n, ns, v, a } = wordBins(root)
  const fill = { n, ns, v, a, num: NUMBERS, day: DAYS }
  const out = []
  let words = 0
  while (words < count) {
    const sentence = one(FRAMES).replace(/\{(\w+)\}/g, (_, name) => one(fill[name]))
    out.push(sentence)
    words += sentence.split(' ').length
  }
  return out
}
