import { useEffect, useState } from 'preact/hooks'
import { shortDay } from '../../report/due.ts'
import { sayDay, sayHive } from '../../report/words.ts'
import type { Visit } from '../../web-server/services.ts'
import type { DueRow } from '../home/client.ts'
import { usePage } from '../page.ts'
import { Plot } from '../parts/plot.tsx'
import { openPast, type Past } from '../visit/past.ts'
import { trends } from '../visit/trends.ts'

/** The hives over their visits, and the season's calendar. */
export function PastScreen() {
  const page = usePage()
  const visit = page.visit.value
  const [past, setPast] = useState<Past | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const [visits, setVisits] = useState<readonly Visit[] | null>(null)
  const { utterances, corrections } = visit.row.value
  useEffect(() => {
    let isGone = false
    void openPast(page.db, page.yard.value).then((now) => {
      if (!isGone) setPast(now)
    })
    return () => {
      isGone = true
    }
  }, [visit, utterances, corrections, page.home.value])
  const inHand = visit.place.value.hive
  const hive = chosen ?? (past?.hives.includes(inHand) ? inHand : past?.hives[0])
  useEffect(() => {
    let isGone = false
    if (past && hive !== undefined)
      void past.visitsOf(hive).then((now) => {
        if (!isGone) setVisits(now)
      })
    return () => {
      isGone = true
    }
  }, [past, hive])
  return (
    <section class="past-screen" aria-labelledby="past-title">
      <h1 id="past-title">Past and season</h1>
      {past === null ? (
        <p class="hint">Reading the visits …</p>
      ) : (
        <div class="columns">
          <section class="card">
            <h2>Calendar</h2>
            <Calendar due={past.due} />
          </section>
          {past.hives.length > 0 && hive !== undefined && (
            <section class="card">
              <h2>Hive history</h2>
              <fieldset class="chips">
                <legend class="unseen">Which hive</legend>
                {past.hives.map((one) => (
                  <button key={one} type="button" aria-pressed={one === hive} onClick={() => setChosen(one)}>
                    {sayHive(one)}
                  </button>
                ))}
              </fieldset>
              {visits && <HivePast visits={visits} />}
            </section>
          )}
        </div>
      )}
    </section>
  )
}

function HivePast({ visits }: { visits: readonly Visit[] }) {
  const drawn = trends.filter(({ field }) => visits.some(({ values }) => values[field] !== undefined))
  return (
    <>
      <p class="fine">
        {visits.length === 1 ? 'One visit' : `${visits.length} visits`}
        {visits.length > 0 && `, the last on ${sayDay(visits.at(-1)!.date)}`}
      </p>
      {drawn.length === 0 && <p>Brood, mites, beetles, temper or stores were not said at this hive yet.</p>}
      <div class="plots">
        {drawn.map((trend) => (
          <Plot key={trend.field} trend={trend} visits={visits} />
        ))}
      </div>
    </>
  )
}

function Calendar({ due }: { due: readonly DueRow[] }) {
  if (due.length === 0) return <p>Nothing is due. What you plan aloud and what the rules date stands here by day.</p>
  const months = new Map<string, DueRow[]>()
  for (const row of due) {
    const month = row.day?.slice(0, 7) ?? ''
    months.set(month, [...(months.get(month) ?? []), row])
  }
  const today = new Date().toISOString().slice(0, 10)
  return (
    <>
      {[...months].map(([month, rows]) => (
        <section key={month} class="month">
          <h3>{month === '' ? 'No day said' : monthName(month)}</h3>
          <ul class="dates">
            {rows.map(({ day, hive, what, between, isSure, date }) => (
              <li key={`${day} ${hive} ${what} ${date}`} class={day !== null && day < today ? 'is-late' : ''}>
                <span class="day">{day === null ? '–' : shortDay(day)}</span>
                <span>
                  {[hive, what].filter(Boolean).join(': ')}
                  {between !== '' && <span class="fine"> {between}</span>}
                  {day !== null && day < today && <span class="flag flag-guess">late</span>}
                  {!isSure && <span class="flag flag-check">not sure</span>}
                </span>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  )
}

const monthName = (month: string): string =>
  new Date(`${month}-15T12:00:00Z`).toLocaleDateString('en', { month: 'long', year: 'numeric', timeZone: 'UTC' })
