import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { type Finding, findingSchema, verdictsOf } from '../../src/rules/finding.ts'
import { judge } from '../../src/rules/judge.ts'
import { rules } from '../../src/rules/rules.ts'
import { caseOf, placeOf } from './case-line.ts'

/** `fixtures/rules/<rule>.txt`: one case a line, `readings => verdict`, as case-line.ts tells. */
const folder = new URL('../../fixtures/rules/', import.meta.url)

interface Line {
  readonly number: number
  readonly readings: string
  readonly wanted: string
}

function linesOf(rule: string): Line[] {
  const out: Line[] = []
  let common = ''
  for (const [i, line] of readFileSync(new URL(`${rule}.txt`, folder), 'utf8')
    .split('\n')
    .entries()) {
    if (line.trim() === '' || line.startsWith('#')) continue
    if (line.startsWith('always ')) {
      common = line.slice('always '.length)
      continue
    }
    const [readings, wanted] = line.split('=>')
    if (!wanted) throw new Error(`${rule}.txt:${i + 1}: no "=> verdict"`)
    out.push({ number: i + 1, readings: `${common} ; ${readings}`, wanted: wanted.trim() })
  }
  return out
}

test('every rule has its fixtures and every fixture its rule', () => {
  const names = readdirSync(folder).map((file) => file.replace('.txt', ''))
  expect(names.sort()).toEqual(rules.map((rule) => rule.id).sort())
})

describe.each(rules.map((rule) => ({ id: rule.id, rule })))('$id', ({ rule }) => {
  const lines = linesOf(rule.id)
  const seen = new Set<string>()
  const told = rule.verdicts ?? verdictsOf[rule.kind]

  for (const { number, readings, wanted } of lines) {
    test(`${rule.id}.txt:${number} ${readings} => ${wanted}`, () => {
      const { record, history, yard, today } = caseOf(readings)
      const findings = judge(record, history, yard, { only: [rule.id], ...(today ? { today } : {}) })
      for (const finding of findings) {
        expect(findingSchema.safeParse(finding).error).toBeUndefined()
        expect(told).toContain(finding.verdict)
      }
      for (const want of wanted.split('&')) {
        const found = check(findings, want.trim(), rule.wholeVisit === true)
        seen.add(found)
      }
    })
  }

  test('has a case for each verdict it can give', () => {
    expect([...seen].sort()).toEqual([...told].sort())
  })
})

/** `[place:] verdict [provisional] [| what low likely high [unit]]` */
function check(findings: readonly Finding[], wanted: string, wholeVisit: boolean): string {
  const [head, detail] = wanted.split('|').map((part) => part.trim())
  const colon = head!.indexOf(':')
  const said = head!.slice(colon + 1).trim()
  const provisional = said.endsWith(' provisional')
  const verdict = said.replace(' provisional', '')
  const place = colon >= 0 ? placeOf(head!.slice(0, colon)) : undefined
  const finding = place
    ? findings.find((one) => JSON.stringify(one.place) === JSON.stringify({ ...place }))
    : (findings.find((one) => one.place.hive === (wholeVisit ? null : '')) ?? findings[0])
  expect(finding, `no finding at ${head}; got ${JSON.stringify(findings.map((one) => one.place))}`).toBeDefined()
  const { says, missing } = finding!
  expect(finding!.verdict, `${says.what} ${says.why}`).toBe(verdict)
  expect(finding!.provisional).toBe(provisional)
  if (verdict === 'cannot tell') expect(missing.length, 'asks for what is missing').toBeGreaterThan(0)
  if (detail) {
    const match = detail.match(/^(.*?) (\S+) (\S+) (\S+)(?: (kg|lb|bees|eggs a day))?$/)
    const [, what, low, likely, high, unit] = match!
    if (unit) {
      const amount = finding!.amounts.find((one) => one.what.startsWith(what!) && one.unit === unit)
      expect(amount && [amount.low, amount.likely, amount.high]).toEqual([low, likely, high].map(Number))
    } else {
      const event = finding!.dates.find((one) => one.event.startsWith(what!))
      expect(event && [event.earliest, event.likely, event.latest]).toEqual([low, likely, high])
    }
  }
  return verdict
}
