/** A number with how far off it may be. */
export interface Interval {
  readonly label: string
  readonly value: number
  readonly low: number
  readonly high: number
}

/**
 * Numbers below each other on one scale from 0, each with its interval: `2026-06-10   2.3  ├──●─────┤`. `width`: columns of
 * the screen.
 */
export function intervalPlot(intervals: readonly Interval[], width: number): string[] {
  const longest = Math.max(...intervals.map(({ label }) => label.length))
  const most = Math.max(...intervals.map(({ high }) => high))
  const columns = Math.max(10, width - longest - 12)
  const at = (number: number) => (most === 0 ? 0 : Math.round((number / most) * (columns - 1)))
  return intervals.map(({ label, value, low, high }) => {
    const line = Array.from({ length: columns }, (_, column): string =>
      column > at(low) && column < at(high) ? '─' : ' ',
    )
    line[at(low)] = '├'
    line[at(high)] = '┤'
    line[at(value)] = '●'
    return `${label.padEnd(longest)} ${value.toFixed(1).padStart(7)}  ${line.join('').trimEnd()}`
  })
}
