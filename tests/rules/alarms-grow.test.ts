import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Value } from '../../src/record/schema.ts'
import { gravity } from '../../src/rules/finding.ts'
import { judge } from '../../src/rules/judge.ts'
import { rules } from '../../src/rules/rules.ts'
import { add, caseOf } from './case-line.ts'

/** More evidence of trouble never makes an alarm weaker: for each alarm, its fields from harmless to grave. */

interface Ladder {
  readonly harmless?: readonly Value[]
  readonly trouble: readonly Value[]
}
type Ladders = Record<string, Ladder>

const no: Ladder = { harmless: ['no'], trouble: ['yes'] }
const yes: Ladder = { harmless: ['yes'], trouble: ['no'] }
const levels: Ladder = { harmless: ['none', 'few'], trouble: ['some', 'many'] }
const frail: Ladder = { harmless: ['strong'], trouble: ['weak'] }

const ladders: Record<string, { fields: Ladders; given?: string }> = {
  'keeper-hurt': { fields: { stings: { harmless: [0], trouble: [1, 9, 10, 60] } } },
  'colony-dead': { fields: { 'colony.dead': no, 'sign.absconded': no } },
  'disease-suspected': {
    fields: {
      'sign.sunkenCappings': no,
      'sign.foulSmell': no,
      'sign.ropyLarvae': no,
      'sign.americanFoulbrood': no,
      'sign.europeanFoulbrood': no,
    },
  },
  'queen-missing': {
    fields: {
      'eggs.present': yes,
      'larvae.present': yes,
      'cappedBrood.present': yes,
      'queen.seen': yes,
      queenright: yes,
      layingWorkers: no,
    },
  },
  'queen-failing': {
    fields: {
      'queen.state': { harmless: ['laying'], trouble: ['failing', 'droneLaying'] },
      'brood.pattern': { harmless: ['solid', 'fair'], trouble: ['spotty'] },
      'queenCells.kind': { trouble: ['supersedure'] },
      'queen.event': { trouble: ['stoppedLaying'] },
      'droneBrood.present': no,
      'cappedBrood.present': yes,
    },
  },
  'workers-laying': {
    fields: { layingWorkers: no, 'eggs.multiplePerCell': no, 'queen.seen': yes },
    given: 'eggs.present=yes',
  },
  'swarm-preparing': {
    fields: {
      'queenCells.present': no,
      'queenCells.stage': { trouble: ['open', 'capped'] },
      'queenCells.count': { harmless: [0], trouble: [1, 12] },
      'queenCups.present': no,
      'sign.swarmed': no,
      'sign.backfilled': no,
      population: { harmless: ['moderate', 'strong'], trouble: ['crowded'] },
    },
  },
  'cells-emergency': {
    fields: {
      'queenCells.present': no,
      'queenCells.kind': { trouble: ['supersedure', 'emergency'] },
      'eggs.present': yes,
      'queen.seen': yes,
    },
  },
  'queen-above-excluder': {
    fields: { 'excluder.present': no, 'frames.brood': { trouble: [1, 5] } },
    given: 'super 1: frames.honey=3',
  },
  'stores-low': {
    fields: {
      'stores.level': { harmless: ['plentiful', 'adequate'], trouble: ['low', 'none'] },
      'stores.weight': { harmless: [20, 5], trouble: [4.9, 2, 1.9, 0] },
      forage: { harmless: ['flow'], trouble: ['dearth'] },
      'sign.deadBees': no,
    },
  },
  'stores-light': {
    fields: { 'stores.weight': { harmless: [40, 20], trouble: [19, 12, 9, 0] } },
    given: 'on 2026-10-01 ; yard climate=temperate',
  },
  'robbing-on': { fields: { 'sign.robbing': no, population: frail } },
  'beetles-many': {
    fields: {
      'pest.smallHiveBeetle.level': levels,
      'pest.smallHiveBeetle.count': { harmless: [0, 10], trouble: [11, 50, 51, 300] },
      'pest.smallHiveBeetle.larvae': no,
      population: frail,
    },
  },
  'beetles-rising': {
    fields: { 'pest.smallHiveBeetle.count': { harmless: [0, 4, 9], trouble: [10, 40] } },
    given: 'before 2026-04-01: pest.smallHiveBeetle.count=5',
  },
  'mites-high': {
    fields: { 'mites.count': { harmless: [0, 1], trouble: [10, 30, 90] }, 'sign.deformedWings': no },
    given: 'mites.sampleBees=150',
  },
  'mites-dropping': { fields: { 'mites.dropPerDay': { harmless: [0, 4], trouble: [12, 40] } } },
  'mites-rising': {
    fields: { 'mites.perHundred': { harmless: [0.5], trouble: [1.1, 2, 5] } },
    given: 'before 2026-04-01: mites.perHundred=1',
  },
  'brood-unbalanced': {
    fields: { 'frames.openBrood': { harmless: [5], trouble: [1.9, 0.5, 0] } },
    given: 'frames.cappedBrood=6',
  },
  'brood-spotty': {
    fields: {
      'brood.pattern': { harmless: ['solid', 'fair'], trouble: ['spotty'] },
      'sign.chalkbrood': no,
      'sign.sunkenCappings': no,
    },
  },
  'brood-ailing': { fields: { 'sign.chalkbrood': no, 'sign.sacbrood': no, population: frail } },
  'brood-chilled': { fields: { 'sign.chilledBrood': no } },
  'adults-sick': {
    fields: { 'sign.deformedWings': no, 'sign.dysentery': no, 'sign.deadBees': no, 'sign.absconded': no },
  },
  'nest-honeybound': { fields: { 'sign.backfilled': no } },
  'colony-crowded': {
    fields: {
      population: { harmless: ['moderate', 'strong'], trouble: ['crowded'] },
      'sign.bearding': no,
      'frames.bees': { harmless: [5], trouble: [9, 10] },
    },
    given: 'frames.total=10',
  },
  'wax-moth-present': { fields: { 'pest.waxMoth.level': levels, 'pest.waxMoth.larvae': no, population: frail } },
  'hornets-present': {
    fields: { 'pest.hornets.level': levels, 'pest.hornets.count': { harmless: [0], trouble: [1, 3, 9] } },
  },
  'wasps-many': {
    fields: {
      'pest.wasps.level': levels,
      'pest.wasps.count': { harmless: [0, 5], trouble: [6, 20, 21] },
      population: frail,
    },
  },
  'mice-present': {
    fields: { 'pest.mice.present': no, 'pest.mice.level': { harmless: ['none'], trouble: ['few', 'many'] } },
  },
  'ants-many': {
    fields: { 'pest.ants.level': { harmless: ['none', 'few', 'some'], trouble: ['many'] }, population: frail },
  },
  'temper-worse': {
    fields: {
      temperament: { harmless: ['calm', 'restless'], trouble: ['defensive', 'aggressive'] },
      stings: { harmless: [0, 9], trouble: [10, 40] },
    },
    given: 'before 2026-04-01: temperament=defensive ; yard neighboursNear=true',
  },
  'frames-moved': {
    fields: {
      'did.moveFrames': { trouble: ['yes'] },
      'sign.sunkenCappings': no,
      'sign.ropyLarvae': no,
      'sign.chalkbrood': no,
    },
  },
  'treatment-clashes': {
    fields: {
      'did.treat.kind': { trouble: ['thymol'] },
      'boxes.super': { harmless: [0], trouble: [1, 3] },
      'weather.temperature': { harmless: [20], trouble: [31, 39] },
    },
  },
  'moisture-risky': { fields: { 'honey.moisture': { harmless: [15, 17], trouble: [17.1, 18.6, 18.7, 20.1, 25] } } },
  'record-contradicts': {
    fields: { queenright: yes, 'queen.state': { harmless: ['laying'], trouble: ['absent'] } },
    given: 'eggs.present=yes ; queen.seen=yes',
  },
  // Its evidence is the calendar; tested below.
  'visit-overdue': { fields: {} },
}

test('every alarm has its ladder', () => {
  const alarms = rules.filter((rule) => rule.kind === 'alarm').map((rule) => rule.id)
  expect(Object.keys(ladders).sort()).toEqual(alarms.sort())
})

const seasons = ['on 2026-01-10', 'on 2026-05-10', 'on 2026-08-20', '']
const lands = ['yard country=GB', 'yard country=AU', 'yard units=metric']

/** The gravest verdict of a rule for readings written as `field` to value. */
function worst(rule: string, given: string, said: ReadonlyMap<string, Value>): number {
  const { record, history, yard } = caseOf(`${given} ; nothing`)
  const box = rule === 'queen-above-excluder' ? 'super 1' : null
  for (const [field, value] of said) add(record, { field, value, box: field === 'frames.brood' ? box : null })
  return Math.max(...judge(record, history, yard, { only: [rule] }).map((finding) => gravity(finding.verdict)))
}

describe.each(Object.entries(ladders).filter(([, { fields }]) => Object.keys(fields).length > 0))(
  '%s',
  (rule, { fields, given = '' }) => {
    test('more trouble never weakens it', () => {
      const names = Object.keys(fields)
      const steps = (name: string) => [...(fields[name]!.harmless ?? []), ...fields[name]!.trouble]
      const picked = fc.tuple(...names.map((name) => fc.integer({ min: -1, max: steps(name).length - 1 })))
      const context = fc.tuple(fc.constantFrom(...seasons), fc.constantFrom(...lands))
      fc.assert(
        fc.property(picked, fc.nat(names.length - 1), fc.nat(9), context, (chosen, which, by, [season, land]) => {
          const name = names[which]!
          const all = steps(name)
          const firstTrouble = all.length - fields[name]!.trouble.length
          const from = chosen[which]!
          const to = Math.max(firstTrouble, from) + (by % (all.length - Math.max(firstTrouble, from)))
          const said = (at: number) =>
            new Map(
              names.flatMap((one, i) =>
                (i === which ? at : chosen[i]!) < 0 ? [] : [[one, steps(one)[i === which ? at : chosen[i]!]!] as const],
              ),
            )
          const setting = `${season} ; ${land} ; ${given}`
          expect(worst(rule, setting, said(to))).toBeGreaterThanOrEqual(worst(rule, setting, said(from)))
        }),
        { seed: 20260101, numRuns: 400 },
      )
    })
  },
)

test('the longer nobody looked, the graver', () => {
  let before = -1
  for (let days = 0; days < 20; days++) {
    const { record, history, yard } = caseOf(
      'on 2026-05-01 ; yard country=GB ; eggs.present=yes ; before 2026-04-25: eggs.present=yes',
    )
    const today = `2026-05-${String(1 + days).padStart(2, '0')}`
    const [finding] = judge(record, history, yard, { only: ['visit-overdue'], today })
    expect(gravity(finding!.verdict)).toBeGreaterThanOrEqual(before)
    before = gravity(finding!.verdict)
  }
  expect(before).toBe(3)
})
