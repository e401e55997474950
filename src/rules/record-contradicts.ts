import type { HiveView, Placed } from './hive-view.ts'
import { amount, readings, says, word, words } from './look.ts'
import { colourOfYear } from './queen-colours.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

interface Clash {
  readonly why: string
  readonly by: readonly Placed[]
  readonly grave: boolean
}

/** Two readings of one visit that cannot both hold: one of them was heard wrongly, or said wrongly. */
export const recordContradicts = defineRule({
  id: 'record-contradicts',
  title: 'Do the readings contradict each other?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  evenDead: true,
  needs: [
    'queenright',
    'queen.state',
    'queen.seen',
    'eggs.present',
    'frames.*',
    'stores.level',
    'queen.markColour',
    'queen.year',
    'colony.dead',
  ],
  numbers: { honeyAnyway: num(3, 'frames', 'common practice', 'frames of honey that do not go with "no stores"') },
  sources: ['highfield-2011'],
  cautions: [],
  judge(hive, n) {
    const found = [...queenClashes(hive), ...countClashes(hive, n.honeyAnyway), ...colourClash(hive)]
    if (found.length > 0) {
      const grave = found.some((clash) => clash.grave)
      return [
        {
          verdict: grave ? 'act' : 'watch',
          what: 'Readings contradict each other.',
          why: found.map((clash) => clash.why).join('; '),
          next: 'Look at the quotes and put right the one that is wrong.',
          restsOn: found.flatMap((clash) => clash.by),
        },
      ]
    }
    if (hive.byField.size < 2)
      return [
        {
          verdict: 'cannot tell',
          what: 'Too little was said to compare.',
          why: 'fewer than two fields',
          missing: [ask(hive, 'eggs.present')],
        },
      ]
    return [
      { verdict: 'none', what: 'Nothing contradicts.', why: 'pairs of readings that exclude each other were compared' },
    ]
  },
})

function queenClashes(hive: HiveView): Clash[] {
  const eggs = says(hive, 'eggs.present')
  const seen = says(hive, 'queen.seen')
  const right = says(hive, 'queenright')
  const state = words(hive, 'queen.state')
  const dead = says(hive, 'colony.dead')
  const workers = says(hive, 'layingWorkers')
  const gone = right.is === false || state.is.has('absent')
  const goneBy = [...right.by, ...state.by]
  const out: Clash[] = []
  if (gone && seen.is)
    out.push({ why: 'called queenless, and the queen was seen', by: [...goneBy, ...seen.by], grave: true })
  if (gone && eggs.is && !workers.is)
    out.push({ why: 'called queenless, and eggs were seen', by: [...goneBy, ...eggs.by], grave: true })
  if (right.is && state.is.has('absent')) out.push({ why: 'called queenright and queenless', by: goneBy, grave: true })
  if (state.is.has('laying') && eggs.is === false)
    out.push({ why: 'the queen is laying, and there are no eggs', by: [...state.by, ...eggs.by], grave: false })
  if (dead.is && (seen.is || eggs.is))
    out.push({ why: 'called dead, and queen or eggs were seen', by: [...dead.by, ...seen.by, ...eggs.by], grave: true })
  return out
}

const pairs: readonly (readonly [denied: string, counted: string])[] = [
  ['eggs.present', 'frames.eggs'],
  ['larvae.present', 'frames.openBrood'],
  ['cappedBrood.present', 'frames.cappedBrood'],
  ['brood.present', 'frames.brood'],
  ['queenCells.present', 'queenCells.count'],
]

function countClashes(hive: HiveView, honeyAnyway: number): Clash[] {
  const out: Clash[] = []
  for (const [field, count] of pairs) {
    const said = says(hive, field)
    const counted = amount(hive, count)
    if (said.is === false && counted && counted.low > 0)
      out.push({ why: `${field} is no, ${count} is ${counted.likely}`, by: [...said.by, ...counted.by], grave: false })
  }
  const level = word(hive, 'stores.level')
  const honey = amount(hive, 'frames.honey')
  if (level.is === 'none' && honey && honey.low >= honeyAnyway)
    out.push({ why: `stores are none, frames of honey ${honey.likely}`, by: [...level.by, ...honey.by], grave: false })
  const brood = amount(hive, 'frames.brood')
  const total = amount(hive, 'frames.total')
  if (brood && total && brood.low > total.high)
    out.push({
      why: `${brood.likely} frames of brood, ${total.likely} frames in all`,
      by: [...brood.by, ...total.by],
      grave: false,
    })
  for (const part of ['frames.cappedBrood', 'frames.openBrood', 'frames.eggs']) {
    const counted = amount(hive, part)
    if (brood && counted && counted.low > brood.high)
      out.push({
        why: `${part} is ${counted.likely}, more than ${brood.likely} frames of brood`,
        by: [...counted.by, ...brood.by],
        grave: false,
      })
  }
  return out
}

/** A colour that does not fit the year is a question, not an error: southern queens carry the earlier year's. */
function colourClash(hive: HiveView): Clash[] {
  const year = readings(hive, 'queen.year').at(-1)
  const colour = word(hive, 'queen.markColour')
  if (typeof year?.value !== 'number' || !colour.is || colourOfYear(year.value) === colour.is) return []
  const right = colourOfYear(year.value)
  return [
    {
      why: `a queen of ${year.value} would be marked ${right}, not ${colour.is}`,
      by: [year, ...colour.by],
      grave: false,
    },
  ]
}
