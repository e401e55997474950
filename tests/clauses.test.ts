import { expect, test } from 'vitest'
import { fitted } from '../src/fitted/fitted.ts'
import { readNote } from '../src/read-note.ts'
import { placedReadings } from '../src/record/schema.ts'

/** What clauses say by their words alone, where no line of the grammar reads them. */

const read = (text: string, clauses?: null) =>
  placedReadings(readNote(text, { name: 'note', date: '2026-06-10', ...(clauses === null ? { clauses } : {}) })).map(
    ({ hive, reading }) => ({ hive, ...reading }),
  )

/** Clauses that are in no table, behind a plain fact, and what they say; what such words mean is common practice. */
const SAID: readonly [string, string, string | number][] = [
  ['She is as good as gold, this one.', 'temperament', 'calm'],
  ['Laying like a machine.', 'queen.state', 'laying'],
  ['Bees are on my veil already.', 'temperament', 'aggressive'],
  ['Grubs in most of it.', 'larvae.present', 'yes'],
  ['Barely a handful of them left in here.', 'population', 'weak'],
  ['They look crowded out.', 'population', 'crowded'],
  ['Hardly enough bees to cover a fist.', 'population', 'weak'],
  ['Sweet as pie, never a peep out of them.', 'temperament', 'calm'],
  ['Pouring out at me, the lot of them.', 'temperament', 'aggressive'],
  ['Cupboard is bare, not a drop in here.', 'stores.level', 'none'],
  ['Plenty for them to be going on with.', 'stores.level', 'adequate'],
  ['Wings all crumpled on a few of them.', 'sign.deformedWings', 'yes'],
  ['Little chalky lumps on the floor.', 'sign.chalkbrood', 'yes'],
  ['I have stuck another super on top.', 'did.addBox', 'yes'],
  ['Could not find her anywhere.', 'queen.seen', 'no'],
  ['There goes her majesty, round the back.', 'queen.seen', 'yes'],
  ['Gaps all over, like a pepper pot.', 'brood.pattern', 'spotty'],
  ['Bar to bar, you could not fit a pin in.', 'brood.pattern', 'solid'],
  ['Lovely big slab, hardly a cell missed.', 'brood.pattern', 'solid'],
  ["Couldn't find hide nor hair of her.", 'queen.seen', 'no'],
  ['Strips have gone in.', 'did.treat', 'yes'],
  ['She has run out of room to lay.', 'population', 'crowded'],
  ['Wasps having a go at the front.', 'pest.wasps.level', 'some'],
  ['Nectar dripping out when I tip it.', 'honey.shake', 'drips'],
  ['Gave them a slab of fondant.', 'did.feed.kind', 'fondant'],
]
const heard = (clauses?: null) =>
  SAID.filter(([said, field, value]) =>
    read(`Hive 3. Six frames of bees. ${said}`, clauses).some(
      (r) => r.hive === '3' && r.field === field && r.value === value,
    ),
  ).map(([said]) => said)

test('much of what no line reads is told by the words of the clause', () => {
  const [lines, all] = [heard(null), heard()]
  expect(lines.filter((said) => !all.includes(said))).toEqual([])
  expect(
    all.length,
    SAID.map(([said]) => said)
      .filter((said) => !all.includes(said))
      .join('\n'),
  ).toBeGreaterThanOrEqual(lines.length + 2)
})

test('it is never sure, names the words it rests on, and tells where it comes from', () => {
  const told = SAID.map(([said]) => `Hive 3. Six frames of bees. ${said}`)
    .flatMap((text) => read(text).map((reading) => ({ text, reading })))
    .filter(({ reading }) => reading.features.likely === 1)
  expect(told.length).toBeGreaterThan(1)
  for (const { text, reading } of told) {
    expect(reading.flag).not.toBe('sure')
    expect(text.slice(reading.start, reading.end)).toBe(reading.quote)
    expect(reading.evidence.every(({ by }) => by.startsWith('clauses:'))).toBe(true)
  }
})

test.each([
  'Hive 3. Queen seen. If the brood was shotgun I would requeen her.',
  'Hive 3. Queen seen. Last year this one was wall to wall brood by now.',
  'Hive 3. Queen seen. A mate of mine had his robbed out last week.',
  'Hive 3. Queen seen. Is that a bit shotgun, do you think?',
  'Hive 3. Queen seen. Pass me the hive tool, would you.',
  'Hive 3. Queen seen. My knees are killing me today.',
])('nothing is told by %s', (text) => {
  expect(read(text).filter(({ features }) => features.likely === 1)).toEqual([])
})

test('what was read stays: a clause only fills in', () => {
  const note =
    'Hive 3. Super one, frame two. Ninety percent capped. Take it. Frame three. Half capped, leave it. Six frames of brood.'
  const lines = read(note, null)
  for (const { field, value, start } of lines)
    expect(read(note).some((r) => r.field === field && r.value === value && r.start === start)).toBe(true)
})

test('far from any talk of bees a clause tells nothing', () => {
  const talk = 'We went to the shop and bought some bread and then we sat in the garden for a while. '.repeat(8)
  expect(read(`${talk}It was crowded out in there, wall to wall.`)).toEqual([])
})

test('knows the fields of the record only', () => {
  const { facts } = fitted()!.clauses
  expect(facts.length).toBeGreaterThan(150)
  expect(new Set(facts.map(({ field, value }) => `${field}=${value}`)).size).toBe(facts.length)
})
