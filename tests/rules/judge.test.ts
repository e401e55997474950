import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { InspectionRecord, Value } from '../../src/record/schema.ts'
import { type Finding, findingSchema } from '../../src/rules/finding.ts'
import { decisive, judge } from '../../src/rules/index.ts'
import { rules } from '../../src/rules/rules.ts'
import { add, caseOf, emptyRecord, type Said } from './case-line.ts'

const judged = (line: string, options = {}) => {
  const { record, history, yard } = caseOf(line)
  return judge(record, history, yard, options)
}
const of = (findings: readonly Finding[], rule: string, hive: string | null = '') =>
  findings.filter((finding) => finding.rule === rule && finding.place.hive === hive)

const perHive = rules.filter((rule) => !rule.wholeVisit)

test('is never silent about a hive: every rule answers for each, even with nothing said', () => {
  const findings = judged('@1 ; @2: eggs.present=yes')
  for (const rule of perHive)
    for (const hive of ['1', '2']) expect(of(findings, rule.id, hive).length, rule.id).toBeGreaterThan(0)
  for (const rule of rules) if (rule.wholeVisit) expect(of(findings, rule.id, null).length).toBe(1)
})

test('a dead hive is asked only what still matters', () => {
  const findings = judged('colony.dead=yes')
  expect(of(findings, 'colony-dead')[0]!.verdict).toBe('act')
  expect(of(findings, 'disease-suspected')).toHaveLength(1)
  expect(of(findings, 'honey-spare')).toHaveLength(0)
})

test('hives of the history that a visit left out are not forgotten', () => {
  const findings = judged(
    'on 2026-05-20 ; yard country=GB ; @1: eggs.present=yes ; before 2026-05-01: @7: did.addTrap=1',
  )
  expect(of(findings, 'visit-overdue', '7')[0]!.verdict).toBe('act')
  expect(of(findings, 'traps-due', '7')[0]!.dates[0]!.likely).toBe('2026-05-15')
  expect(of(findings, 'queen-missing', '7')).toHaveLength(0)
})

test('later and same-note records are no history', () => {
  const { record, yard } = caseOf('on 2026-05-10 ; brood.pattern=spotty')
  const later = { ...caseOf('brood.pattern=spotty').record, note: 'later', date: '2026-06-01' }
  expect(judge(record, [later], yard, { only: ['queen-failing'] })[0]!.verdict).toBe('watch')
  const same = { ...caseOf('brood.pattern=spotty').record, date: '2026-05-01' }
  expect(judge(record, [same], yard, { only: ['queen-failing'] })[0]!.verdict).toBe('watch')
})

test('the gravest comes first within a hive', () => {
  const findings = judged('sign.ropyLarvae=yes ; stores.level=low ; eggs.present=yes').filter(
    (one) => one.place.hive === '',
  )
  expect(findings[0]!.rule).toBe('disease-suspected')
  expect(findings.findIndex((one) => one.rule === 'stores-low')).toBeLessThan(
    findings.findIndex((one) => one.rule === 'queen-missing'),
  )
})

test('cautions hang on what is to be done, not on quiet answers', () => {
  const quiet = judged('eggs.present=yes ; super 1/2: honey.cappedPercent=20')
  expect(quiet.flatMap((one) => one.cautions)).toEqual([])
  expect(judged('sign.ropyLarvae=yes').find((one) => one.rule === 'disease-suspected')!.cautions).toContain(
    'notifiable',
  )
  expect(of(judged('super 1/2: honey.cappedPercent=90'), 'side-ready')[0]!.cautions).toContain('infants')
})

test('no disease is named as certain, and nobody is told that there is no need to report', () => {
  for (const sign of ['americanFoulbrood', 'europeanFoulbrood', 'ropyLarvae', 'sunkenCappings', 'foulSmell']) {
    const says = of(judged(`sign.${sign}=yes`), 'disease-suspected')[0]!.says
    expect(says.what).toContain('could be')
    expect(says.what).not.toMatch(/foulbrood\.$|is American|is European/)
    expect(says.next).toContain('call')
  }
})

describe('settings', () => {
  const throwing = (yard: object) => () => judge(emptyRecord('x'), [], yard)
  test('a wrong one is told with its place', () => {
    expect(throwing({ rules: { honeyStandrad: 'eu' } })).toThrow(/yard setting rules.*honeyStandrad/)
    expect(throwing({ rules: { numbers: { 'side-ready.sealedEnouhg': 70 } } })).toThrow(
      /side-ready.sealedEnouhg.*combscribe rules/,
    )
  })
  test('facts of nature are no settings', () => {
    expect(throwing({ rules: { numbers: { 'queen-missing.hatches': 4 } } })).toThrow(/queen-missing.hatches/)
  })
  test('other parts of a yard file are left alone', () => {
    expect(
      throwing({ apiaries: [{ name: 'Home' }], words: {}, region: { country: 'GB', spelling: 'british' } }),
    ).not.toThrow()
  })
  test('a hive has its own frames', () => {
    const yard = { equipment: { superFrame: 'langstrothDeep' }, hives: [{ label: '2', superFrame: 'ideal' }] }
    const { record } = caseOf('@1 super 1: frames.cappedHoney=1 ; @2 super 1: frames.cappedHoney=1')
    const kg = (hive: string) => of(judge(record, [], yard), 'honey-takeable', hive)[0]!.amounts[0]!.likely
    expect([kg('1'), kg('2')]).toEqual([2.9, 1.6])
  })
})

/** Readings that many rules look at, with values that mean something to them. */
const pool: readonly (readonly [string, readonly Value[]])[] = [
  ['eggs.present', ['yes', 'no']],
  ['larvae.present', ['yes', 'no']],
  ['cappedBrood.present', ['yes', 'no']],
  ['queen.seen', ['yes', 'no']],
  ['queenright', ['yes', 'no']],
  ['queen.state', ['laying', 'virgin', 'failing', 'droneLaying', 'absent', 'caged']],
  ['queenCells.present', ['yes', 'no']],
  ['queenCells.stage', ['open', 'capped', 'emerged', 'tornDown']],
  ['queenCells.kind', ['swarm', 'supersedure', 'emergency']],
  ['brood.pattern', ['solid', 'fair', 'spotty']],
  ['frames.brood', [0, 3, 6, [5, 7]]],
  ['frames.cappedBrood', [0, 4]],
  ['frames.openBrood', [0, 3]],
  ['frames.bees', [2, 8, 10]],
  ['frames.total', [10, 20]],
  ['frames.honey', [0, 2, 8]],
  ['stores.level', ['none', 'low', 'adequate', 'plentiful']],
  ['stores.weight', [1, 4, 22, [3, 8]]],
  ['population', ['weak', 'moderate', 'strong', 'crowded']],
  ['temperament', ['calm', 'restless', 'defensive', 'aggressive']],
  ['mites.count', [0, 2, 9, 30]],
  ['mites.sampleBees', [60, 300]],
  ['pest.smallHiveBeetle.count', [0, 6, 60]],
  ['pest.smallHiveBeetle.larvae', ['yes', 'no']],
  ['sign.sunkenCappings', ['yes', 'no']],
  ['sign.foulSmell', ['yes', 'no']],
  ['did.treat', ['yes']],
  ['did.treat.kind', ['thymol', 'formicAcid']],
  ['boxes.super', [0, 2]],
  ['did.split', ['yes']],
  ['todo.treat', ['yes', '2026-05-20']],
  ['colony.dead', ['no', 'yes']],
]
const placedPool: readonly (readonly [string, readonly Value[]])[] = [
  ['honey.cappedPercent', [10, 66, 67, 80, 100, [70, 90]]],
  ['honey.moisture', [17, 18.6, 21, 1.49]],
  ['honey.shake', ['dry', 'drips']],
  ['frame.holds', ['eggs', 'larvae', 'cappedBrood', 'cappedHoney', 'nectar']],
]

const flags = fc.constantFrom<'sure' | 'check' | 'guess'>('sure', 'check', 'guess')
const saidIn = (from: typeof pool, place: fc.Arbitrary<Pick<Said, 'box' | 'frame' | 'side'>>) =>
  fc
    .tuple(fc.nat(from.length - 1), fc.nat(9), fc.nat(9), flags, place, fc.constantFrom('1', '2'))
    .map(([which, value, other, flag, at, hive]): Said => {
      const [field, values] = from[which]!
      const said = values[value % values.length]!
      const others = values.length > 1 ? [values[other % values.length]!].filter((one) => one !== said) : []
      return { field, value: said, others, flag, hive, ...at }
    })
const anyRecord = fc
  .tuple(
    fc.array(saidIn(pool, fc.constant({})), { maxLength: 14 }),
    fc.array(
      saidIn(
        placedPool,
        fc.record({
          box: fc.constantFrom('super 1', 'brood 1'),
          frame: fc.integer({ min: 1, max: 3 }),
          side: fc.constantFrom('A' as const, 'B' as const, null),
        }),
      ),
      { maxLength: 6 },
    ),
    fc.constantFrom('2026-05-10', '2026-10-01', '2026-01-05', null),
  )
  .map(([whole, placed, date]) => {
    const record: InspectionRecord = { ...emptyRecord('any'), date }
    for (const said of [...whole, ...placed]) add(record, said)
    return record
  })
const someYard = fc.constantFrom(
  {},
  {
    region: { country: 'GB', climate: 'temperate' },
    equipment: { broodFrame: 'nationalDeep', superFrame: 'nationalShallow', framesPerBox: 11 },
  },
)

const keyOf = ({ rule, place }: Finding) => `${rule}|${place.hive}|${place.box}|${place.frame}|${place.side}`

describe('on any record', () => {
  test('findings are whole, unique, and a "cannot tell" asks for something', () => {
    fc.assert(
      fc.property(anyRecord, someYard, (record, yard) => {
        const findings = judge(record, [], yard)
        for (const finding of findings) {
          expect(findingSchema.safeParse(finding).error).toBeUndefined()
          if (finding.verdict === 'cannot tell') expect(finding.missing.length, finding.rule).toBeGreaterThan(0)
          for (const { earliest, likely, latest } of finding.dates)
            expect(earliest <= likely && likely <= latest, finding.rule).toBe(true)
          for (const { low, likely, high } of finding.amounts)
            expect(low <= likely && likely <= high, finding.rule).toBe(true)
        }
        expect(new Set(findings.map(keyOf)).size).toBe(findings.length)
      }),
      { seed: 20260102, numRuns: 150 },
    )
  })

  test('it is judged the same twice, and the record is left as it was', () => {
    fc.assert(
      fc.property(anyRecord, someYard, (record, yard) => {
        const before = JSON.stringify(record)
        expect(judge(record, [], yard)).toEqual(judge(record, [], yard))
        expect(JSON.stringify(record)).toBe(before)
      }),
      { seed: 20260103, numRuns: 40 },
    )
  })

  test('a flip is told exactly where judging the other value gives another verdict', () => {
    const alive = anyRecord.filter((record) => !JSON.stringify(record).includes('colony.dead'))
    fc.assert(
      fc.property(alive, someYard, fc.nat(), (record, yard, which) => {
        const found: { reading: InspectionRecord['visit'][number]; hive: string }[] = []
        for (const hive of record.hives) {
          const all = [...hive.readings, ...hive.boxes.flatMap((box) => box.frames.flatMap((frame) => frame.readings))]
          for (const reading of all) if (reading.flag !== 'sure') found.push({ reading, hive: hive.hive })
        }
        const picked = found[which % Math.max(1, found.length)]
        const other = picked?.reading.alternatives[0]?.value
        if (!picked || other === undefined) return
        const { reading, hive } = picked
        const now = judge(record, [], yard).filter((one) => one.place.hive === hive)
        const changed = structuredClone(record, {})
        const twin = JSON.parse(JSON.stringify(changed), (_, value) =>
          value?.id === reading.id ? { ...value, value: other } : value,
        )
        const then = new Map(judge(twin, [], yard).map((one) => [keyOf(one), one.verdict]))
        for (const finding of now) {
          const told = finding.flips.find(
            (flip) => flip.reading === reading.id && JSON.stringify(flip.instead) === JSON.stringify(other),
          )
          const verdict = then.get(keyOf(finding)) ?? null
          expect(told ? told.verdict : finding.verdict, `${finding.rule} ${reading.field}`).toBe(verdict)
        }
      }),
      { seed: 20260104, numRuns: 300 },
    )
  })
})

describe('decisive', () => {
  const asked = (line: string) => {
    const { record, history, yard } = caseOf(line)
    return decisive(record, history, yard)
  }
  test('asks first for what could change most', () => {
    const order = asked('sign.ropyLarvae=no? ; temperament=calm?~restless ; eggs.present=yes?').map((one) => one.field)
    expect(order).toEqual(['sign.ropyLarvae', 'eggs.present', 'temperament'])
  })
  test('names what would change and how', () => {
    const [first] = asked('super 1/3/A: honey.cappedPercent=85? ~ 58')
    expect(first!.changes).toContainEqual(
      expect.objectContaining({ rule: 'side-ready', from: 'yes', to: 'no', instead: 58 }),
    )
    expect(first!.place).toEqual({ hive: '', box: 'super 1', frame: 3, side: 'A' })
  })
  test('a doubtful reading that changes nothing comes last and weighs nothing', () => {
    const all = asked('eggs.present=yes? ; did.clean=yes?')
    expect(all.at(-1)).toMatchObject({ field: 'did.clean', weight: 0, changes: [] })
  })
  test('values that a person put right are not tried again', () => {
    const { record } = caseOf('super 1/3/A: honey.cappedPercent=85?')
    record.hives[0]!.boxes[0]!.frames[0]!.readings[0]!.alternatives.push({
      value: 10,
      confidence: 0.1,
      why: 'corrected',
    })
    expect(decisive(record)[0]!.others).toEqual([])
  })
  test("another hive's sign counts where frames went there", () => {
    const [first] = asked('did.moveFrames=2 ; moved.to=3 ; @3: sign.ropyLarvae=no?')
    expect(first!.changes.map((change) => `${change.rule} ${change.place.hive}`)).toContain('frames-moved ')
  })
  test('sure readings are not asked for', () => {
    expect(asked('eggs.present=yes')).toEqual([])
  })
})
