import { useEffect, useRef } from 'preact/hooks'
import type { VisitValue } from '../../report/visit.ts'
import { sayDay, spell } from '../../report/words.ts'
import type { Visit } from '../../web-server/services.ts'
import type { Trend } from '../visit/trends.ts'

const say = (value: string | number): string => (typeof value === 'number' ? String(value) : spell(value))
const withInterval = ({ value, low, high }: VisitValue): string =>
  say(value) + (low === undefined || high === undefined ? '' : ` (${low} to ${high})`)

/** The values of one trend over the visits of a hive, drawn; and as a table for those who cannot see the drawing. */
export function Plot({ trend, visits }: { trend: Trend; visits: readonly Visit[] }) {
  const holder = useRef<HTMLDivElement>(null)
  const { field, title, unit, steps } = trend
  const points = visits.flatMap(({ date, values }) => {
    const one = values[field]
    const value = one && (typeof one.value === 'number' ? one.value : steps.indexOf(one.value))
    return one && value !== undefined && value >= 0 ? [{ date, one, value }] : []
  })
  useEffect(() => {
    const own = holder.current
    if (!own || points.length < 2) return
    let isGone = false
    let destroy = (): void => {}
    // The library comes when the first plot is shown: speaking must not wait for it.
    void import('./draw-plot.ts').then(({ drawPlot }) => {
      if (!isGone) destroy = drawPlot(own, points, trend)
    })
    return () => {
      isGone = true
      destroy()
    }
  }, [JSON.stringify(points), trend])
  if (points.length === 0) return null
  const last = points.at(-1)!
  return (
    <figure class="plot">
      <figcaption>
        <strong>{title}</strong> {unit} <span class="plot-last">{withInterval(last.one)}</span>
      </figcaption>
      {points.length > 1 && <div ref={holder} class="plot-holder" aria-hidden="true" />}
      <details>
        <summary>As a table</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">Day</th>
              <th scope="col">{title}</th>
            </tr>
          </thead>
          <tbody>
            {points.map(({ date, one }) => (
              <tr key={date}>
                <td>{sayDay(date)}</td>
                <td>{withInterval(one)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  )
}
