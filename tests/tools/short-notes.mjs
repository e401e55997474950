// Short notes put together from plain calls, what is said before them and what is said of a hive: few of the labelled notes are
// as short, and none calls a single hive in each of these ways. Same shape as the notes of `hive-notes.mjs`.
import { randomOf } from './random.mjs'

/** What is said before the first hive. */
const BEFORE = `
|||||Right. |Okay. |Right, |Okay so |Now then, |So, |Well then. |Hello. |Good morning, |Afternoon, |Evening all. |
Eighteen degrees and cloudy. |Warm one today, twenty six degrees. |Cold this morning, nine degrees, |Bit of drizzle. |No wind at all, |
Smoker is going. |Got the veil on, |Suit on, hive tool in hand. |Forgot the gloves. |I've left the notebook at home, |Parked by the gate. |
Tenth of May. |It's the second of July, |Monday. |Sunday afternoon, half past two. |Back at the orchard, |Down at the allotment. |
Is this thing on? |Recording. |Here goes, |Okay Siobhan, |Right everybody, |Come on then, |Let's see. |Let's get on. |Three to look at this evening. |
Only the one hive today. |Second visit this week. |Short note, |Just a quick one. |Bees are flying well, |They're busy on the lime. `
  .split('|')
  .map((one) => one.replace(/^\n/, ''))
/** What may stand right before a call, in the same clause. */
const LEADS =
  '||||||||||This is |I am at |Starting with |Start with |First up, |First is |We begin with |Looking at |Into |At |Opened |I opened |Going into |Here is '.split(
    '|',
  )
/** What leads on to another hive. */
const ONWARDS =
  '||||Next, |Now |Then |On to |Over to |And |Moving on to |Next up, |Right, |Okay, |Last one, |Next is |Lid back on. |Closed her up. |That one is done. '.split(
    '|',
  )
/** What is said of a hive. */
const FACTS = `
queen seen|saw the queen|there's the queen, red dot|I can see her majesty|eggs and young brood|eggs|eggs in the middle frames|saw eggs|
no eggs|no sign of the queen|no queen but eggs|five frames of brood|seven frames of brood, two of stores|brood on six frames|
two frames of sealed brood|nine seams of bees|four seams|bees on all ten frames|one queen cell, I knocked it down|three open cells on the bottom|
no cells|two supers on|put a super on|I gave her a super|took off one super|fed them two litres|gave a kilo of fondant|light on stores|
plenty of food|heavy|nice and calm|a bit cross today|very strong|weak, only three frames|queenless I think|bringing in pollen|twelve mites on the board|
seven mites in the wash|chalkbrood, about ten cells|a few small hive beetles|good laying pattern|spotty brood|clipped her and marked her blue|
marked the queen|single box|she is a double|lots of drone brood|drawn out four frames|the super is half full|capped about eighty percent`
  .trim()
  .split(/\|\n?/)
/** Other hives are spoken of, but not gone to; `#` is theirs. */
const PASSING = `
gave it a frame of brood from hive #|same as hive # last week|not as strong as number #|I moved a frame of eggs over from number #|
the queen came out of hive #|they are bigger than hive # already|I will give the spare super to number #|better tempered than hive #|
hive #'s old queen is in here|I want to unite it with number # in the autumn|two frames of this went to hive #`
  .trim()
  .split(/\|\n?/)

const NUMBERS =
  'one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen'.split(' ')
const PAINTS = 'blue green yellow red white pink purple'.split(' ')
const PLACES = ['left hand', 'right hand', 'far', 'end', 'middle', 'front', 'back']
const PEOPLE = 'Daisy Matilda Agnes Ruby Ethel Saffron Juno Bramble Clover Willow'.split(' ')

const some = (rnd, list) => list[Math.floor(rnd() * list.length)]
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1)

/** How the hives of one note are called: for the n-th the label and the words. */
function callsOf(rnd) {
  const first = 1 + Math.floor(rnd() * 14)
  const digits = rnd() < 0.4
  const number = (n) => (digits ? String(n) : (NUMBERS[n - 1] ?? String(n)))
  const numbered = (word) => (k) => ({ label: String(first + k), said: `${word} ${number(first + k)}` })
  const list = (names, said, label) => {
    const at = Math.floor(rnd() * names.length)
    return (k) => {
      const name = names[(at + k) % names.length]
      return { label: label(name.toLowerCase()), said: said(name) }
    }
  }
  const same = (name) => name
  return some(rnd, [
    numbered('hive'),
    numbered('hive'),
    numbered('hive'),
    numbered('number'),
    numbered('number'),
    numbered('hive number'),
    numbered('colony'),
    (k) => ({ label: `nuc ${first + k}`, said: `nuc ${number(first + k)}` }),
    list(
      'ABCDEFGH'.split(''),
      (name) => `hive ${name}`,
      (name) => name,
    ),
    list(PAINTS, (name) => `the ${name} hive`, same),
    list(
      PLACES,
      (name) => `the ${name} hive`,
      (name) => name.replace(' hand', ''),
    ),
    list(PEOPLE, (name) => `hive ${name}`, same),
  ])
}

/** So many notes, the same for the same seed: name and stretches, each with the labels of its hives. */
export function shortNotes(many, seed) {
  const rnd = randomOf(seed)
  return Array.from({ length: many }, (_, i) => {
    const call = callsOf(rnd)
    const before = some(rnd, BEFORE)
    const hives = rnd() < 0.55 ? 1 : rnd() < 0.7 ? 2 : 3
    const stretches = before === '' ? [] : [{ labels: [], said: before }]
    for (let k = 0; k < hives; k++) {
      const { label, said } = call(k)
      const lead = k === 0 ? some(rnd, LEADS) : some(rnd, ONWARDS)
      const facts = Array.from({ length: 1 + Math.floor(rnd() * 3) }, () => some(rnd, FACTS))
      if (/^(hive|number)\b/.test(said) && rnd() < 0.2)
        facts.push(some(rnd, PASSING).replace('#', NUMBERS[Math.floor(rnd() * 16)]), some(rnd, FACTS))
      const opens = k > 0 || before === '' || /[.?] $/.test(before)
      const behind = some(rnd, [', ', '. ', ', ', ': ', ' '])
      const clause = `${lead}${lead === '' || /[,.] $/.test(lead) ? (/\. $/.test(lead) ? capital(said) : said) : said}`
      const words = facts.map((fact) => fact).join(some(rnd, [', ', '. ', ', and ']))
      const text = `${opens ? capital(clause) : clause}${behind}${behind === '. ' ? capital(words) : words}. `
      stretches.push({ labels: [label], said: text.replace(/\. ([a-z])/g, (_, letter) => `. ${letter.toUpperCase()}`) })
    }
    return { name: `short-${i + 1}`, stretches }
  })
}
