import uPlot from 'uplot'
import type { VisitValue } from '../../report/visit.ts'
import { spell } from '../../report/words.ts'
import type { Trend } from '../visit/trends.ts'

const HEIGHT = 170

/** Draws one trend into `holder`: a line through the visits, and a bar from `low` to `high` where a value has them. */
export function drawPlot(
  holder: HTMLElement,
  points: readonly { date: string; one: VisitValue; value: number }[],
  { steps }: Trend,
): () => void {
  const days = points.map(({ date }) => Date.parse(`${date}T12:00:00Z`) / 1000)
  const values = points.map(({ value }) => value)
  const highest = Math.max(1, ...points.map(({ one, value }) => one.high ?? value))
  const top = steps.length > 0 ? steps.length - 1 : highest * 1.1
  const day = 86_400
  const edge = Math.max(day * 3, ((days.at(-1) ?? 0) - (days[0] ?? 0)) * 0.06)
  let plot: uPlot | undefined
  const draw = (): void => {
    plot?.destroy()
    const colour = (name: string): string => getComputedStyle(holder).getPropertyValue(name).trim()
    const [ink, line, grid] = [colour('--ink'), colour('--accent'), colour('--line')]
    const axis = { stroke: ink, font: '13px system-ui', grid: { stroke: grid, width: 1 }, ticks: { stroke: grid } }
    plot = new uPlot(
      {
        width: holder.clientWidth,
        height: HEIGHT,
        legend: { show: false },
        cursor: { show: false },
        scales: {
          x: { range: () => [days[0]! - edge, days.at(-1)! + edge] },
          y: { range: () => [steps.length > 0 ? -0.3 : 0, steps.length > 0 ? top + 0.3 : top] },
        },
        axes: [
          { ...axis, values: (_, splits) => splits.map(sayMonthDay), space: 60 },
          steps.length > 0
            ? { ...axis, size: 94, splits: () => steps.map((_, i) => i), values: () => steps.map(spell) }
            : { ...axis, size: 40 },
        ],
        series: [{}, { stroke: line, width: 3, points: { show: true, size: 10, fill: line, stroke: line } }],
        hooks: { drawSeries: [(own) => drawIntervals(own, days, points, line)] },
      },
      [days, values],
      holder,
    )
  }
  draw()
  const resized = new ResizeObserver(() => plot?.setSize({ width: holder.clientWidth, height: HEIGHT }))
  resized.observe(holder)
  const scheme = matchMedia('(prefers-color-scheme: dark)')
  scheme.addEventListener('change', draw)
  return () => {
    resized.disconnect()
    scheme.removeEventListener('change', draw)
    plot?.destroy()
  }
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const sayMonthDay = (seconds: number): string => {
  const day = new Date(seconds * 1000)
  return `${day.getUTCDate()} ${MONTHS[day.getUTCMonth()]}`
}

/** A bar with ends from low to high: how wide a count of mites may be off. */
function drawIntervals(
  plot: uPlot,
  days: readonly number[],
  points: readonly { one: VisitValue }[],
  line: string,
): void {
  const { ctx } = plot
  const cap = 5 * devicePixelRatio
  ctx.save()
  ctx.strokeStyle = line
  ctx.lineWidth = 2 * devicePixelRatio
  ctx.beginPath()
  for (const [i, { one }] of points.entries()) {
    if (one.low === undefined || one.high === undefined) continue
    const x = plot.valToPos(days[i]!, 'x', true)
    const [low, high] = [plot.valToPos(one.low, 'y', true), plot.valToPos(one.high, 'y', true)]
    ctx.moveTo(x, low)
    ctx.lineTo(x, high)
    for (const y of [low, high]) {
      ctx.moveTo(x - cap, y)
      ctx.lineTo(x + cap, y)
    }
  }
  ctx.stroke()
  ctx.restore()
}
