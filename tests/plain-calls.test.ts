import { expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'
// @ts-expect-error tools are plain modules
import { bare } from './tools/labelled.mjs'

/** Short notes in which hives are called plainly: what is said, and the hives of its readings in order. How keepers call hives is common practice. */
const PLAIN: readonly (readonly [string, readonly string[]])[] = [
  ['Right, hive seven, queen seen, blue dot, six frames of brood.', ['7']],
  ['Right hive seven, queen seen.', ['7']],
  ['Twenty degrees out, hive 2, eggs seen.', ['2']],
  ['Okay everybody, hive three, saw the queen.', ['3']],
  ['Number 9 in the shade. Eggs seen.', ['9']],
  ['Okay, hive number four, strong colony, eight seams of bees.', ['4']],
  ['Morning all. Hive twelve. No eggs, two capped queen cells.', ['12']],
  ['Bit breezy today, sixteen degrees, hive 7, very light, fed two litres of syrup.', ['7']],
  ['Left the smoker in the car. Colony five, six frames of bees and they are calm.', ['5']],
  ['Gloves on, veil on. Nuc two, queen seen.', ['nuc 2']],
  ["Here we're at the top yard, number nine, five frames of brood.", ['9']],
  ['Third of June, hive three, plenty of stores, gave them a super.', ['3']],
  ['Quick look before the rain. Hive 1, I saw the queen.', ['1']],
  ['Okay folks, hive twelve, no queen seen but eggs.', ['12']],
  ['Testing, testing. Hive number four. Eggs and larvae, calm bees.', ['4']],
  ['Sunny, hardly any wind. Starting with hive three, eggs seen.', ['3']],
  ['Half past ten. Colony five, saw the queen.', ['5']],
  ['Two hives to do today. Hive 2, eggs seen. Hive 3, no eggs.', ['2', '3']],
  ['So, the green hive, five frames of brood. Then the white hive, queen seen.', ['green', 'white']],
  ['Hive Daisy, queen seen, calm. Next, hive Ruby, no eggs.', ['daisy', 'ruby']],
  ['Nuc one, eggs. Nuc two, queen seen.', ['nuc 1', 'nuc 2']],
  // hives that are only spoken of
  ['Hive five, six frames of brood, two of those frames came from hive two. Queen seen.', ['5']],
  ['Hive four, eggs, calm, same as number three last week. Light on stores.', ['4']],
  ["Hive six. Hive two's old queen is in here now. Eggs seen.", ['6']],
  ['Number eight, queen seen, not as strong as number three. Two supers on.', ['8']],
  // no hive at all
  ['Two moth grubs under the quilt.', ['']],
  ['Top box eight frames of bees, bottom box six.', ['']],
  ['Three full frames of capped honey.', ['']],
  ['Frame two, pollen. Three, brood and eggs.', ['']],
]

const isOfVisit = /^(visit|weather|forage|flow)\b/
const hivesIn = (text: string): string[] => {
  const readings = flatten(readNote(text, { name: 'note', date: '2026-05-20' }))
  return [...new Set(readings.filter(({ field }) => !isOfVisit.test(field)).map(({ hive }) => hive))]
}

test.each(PLAIN)('%s', (text, hives) => {
  expect(hivesIn(text)).toEqual(hives)
})
test.each(PLAIN)('without marks: %s', (text, hives) => {
  expect(hivesIn(bare(text))).toEqual(hives)
})
