import { expect, test } from 'vitest'
import { judge } from '../../src/rules/judge.ts'
import { caseOf } from './case-line.ts'

/** Worked examples of counting mites, through the rules themselves. */

const why = (rule: string, line: string) => {
  const { record, yard } = caseOf(line)
  return judge(record, [], yard, { only: [rule] })[0]!.says.why
}

test.each([
  // COLOSS BEEBOOK II, powdered sugar, prints 14.3 for 43 of 310; 43/310 is 13.87 and 14.3 would be 43/300.
  ['COLOSS BEEBOOK volume II, 4.2.3.1.2.1, put right', 43, 310, '13.9'],
  ["a keeper's wash (russellhoney.com)", 9, 300, '3.0'],
  ["a keeper's wash (littlehouseonthebighill.com)", 8, 300, '2.7'],
])('%s: %i mites of %i bees are %s per 100', (_, mites, bees, rate) => {
  expect(why('mites-high', `mites.count=${mites} ; mites.sampleBees=${bees}`)).toContain(`${rate} per 100 bees`)
})

test.each([
  ['Ontario ministry, as reproduced 2016: about 20', 61, 3, '20.3'],
  ['Defra, as quoted 2009', 10, 4, '2.5'],
])('%s: %i mites in %i days are %s a day', (_, mites, days, rate) => {
  const line = `mites.count=${mites} ; mites.method=stickyBoard ; mites.days=${days}`
  expect(why('mites-dropping', line)).toContain(`${rate} mites a day`)
})

test('the interval is told with the rate: 9 of 300 may be 1.6 to 5.6 per 100 (Wilson 1927)', () => {
  expect(why('mites-high', 'mites.count=9 ; mites.sampleBees=300')).toContain('(95 %: 1.6 to 5.6)')
})
