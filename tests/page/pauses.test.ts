import { expect, test } from 'vitest'
import { pauseFinder, type Stretch } from '../../src/web/ears/pauses.ts'

/** Where a recording is cut, looked at ten times a second as the page does. */
function cuts(loudness: (seconds: number) => number, until: number): { at: number; stretch: Stretch }[] {
  const finder = pauseFinder({ quiet: 0.9, longest: 30 })
  return Array.from({ length: until * 10 }, (_, i) => i / 10).flatMap((at) => {
    const stretch = finder.hear(loudness(at), at)
    return stretch ? [{ at, stretch }] : []
  })
}
const speaks =
  (background: number, ...from: number[]) =>
  (at: number): number =>
    from.some((start) => at >= start && at < start + 2) ? 0.2 : background

test('once after each sentence', () => {
  for (const background of [0, 0.002, 0.01]) {
    const found = cuts(speaks(background, 4, 12), 25)
    expect(found.map(({ at }) => Math.round(at))).toEqual([7, 15])
    expect(found.map(({ stretch }) => stretch.spoke)).toEqual([true, true])
  }
})
test('beside loudly humming bees too, once they are known', () => {
  const found = cuts(speaks(0.02, 10, 20), 30)
  expect(found.map(({ at }) => Math.round(at))).toEqual([4, 13, 23])
})
test('silence is cut at last, and known for silence', () => {
  expect(cuts(() => 0.001, 65).map(({ stretch }) => stretch.spoke)).toEqual([false, false])
})
test('somebody who never pauses is cut nevertheless', () => {
  expect(cuts((at) => (at % 1 < 0.5 ? 0.3 : 0.05), 65).map(({ stretch }) => stretch.spoke)).toEqual([true, true])
})
test('what ends with listening is as it was until then', () => {
  const finder = pauseFinder({ quiet: 0.9, longest: 30 })
  finder.hear(0.3, 0)
  expect(finder.end()).toEqual({ spoke: true })
  expect(finder.end()).toEqual({ spoke: false })
})
