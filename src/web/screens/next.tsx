import type { ComponentChildren } from 'preact'
import { asks } from '../../report/doubts.ts'
import { due, shortDay } from '../../report/due.ts'
import { cares, firstThings, placeWords, together, watched } from '../../report/findings.ts'
import type { Finding } from '../../rules/finding.ts'
import { usePage } from '../page.ts'

/** What the rules make of the visit: what to do first, what is due, what to watch, what is still to be said. */
export function Next() {
  const { visit } = usePage()
  const record = visit.value.record.value
  const findings = visit.value.findings.value
  const first = together(firstThings(findings))
  const watch = together(watched(findings))
  const amounts = together(findings.filter(({ kind, verdict }) => kind === 'howMuch' && verdict === 'estimated'))
  const dates = due(record, findings)
  const open = asks(record, findings)
  const care = cares(findings)
  const isEmpty = record.hives.length === 0
  return (
    <section class="next-screen" aria-labelledby="next-title">
      <h1 id="next-title">What is next</h1>
      {isEmpty ? (
        <p class="hint">Nothing was said of a hive yet. What the rules find in your words stands here.</p>
      ) : (
        <div class="columns">
          <section class="card">
            <h2>Do first</h2>
            {first.length > 0 ? (
              <FindingList groups={first} ordered />
            ) : (
              <p>Nothing here calls for anything at once.</p>
            )}
          </section>
          {dates.length > 0 && (
            <section class="card">
              <h2>Due</h2>
              <ul class="dates">
                {dates.map(({ day, hive, what, between, isSure }) => (
                  <li key={`${day} ${hive} ${what}`}>
                    <span class="day">{day === null ? 'no day said' : shortDay(day)}</span>
                    <span>
                      {[hive, what].filter(Boolean).join(': ')}
                      {between !== '' && <span class="fine"> {between}</span>}
                      {!isSure && <span class="flag flag-check">not sure</span>}
                    </span>
                  </li>
                ))}
              </ul>
            </section>
          )}
          {watch.length > 0 && (
            <section class="card">
              <h2>Keep an eye on</h2>
              <FindingList groups={watch} />
            </section>
          )}
          {amounts.length > 0 && (
            <Folded title="About how much">
              <FindingList groups={amounts} />
            </Folded>
          )}
          {open.length > 0 && (
            <Folded title="Still to be said">
              <ul class="lines">
                {open.map((text) => (
                  <li key={text}>{text}</li>
                ))}
              </ul>
            </Folded>
          )}
          {care.length > 0 && (
            <Folded title="Take care">
              <dl class="cares">
                {care.map(({ title, text }) => (
                  <div key={title}>
                    <dt>{title}</dt>
                    <dd>{text}</dd>
                  </div>
                ))}
              </dl>
            </Folded>
          )}
        </div>
      )}
    </section>
  )
}

/** What is read later, at the table: shut on a phone until it is touched. */
function Folded({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <details class="card folded">
      <summary>
        <h2>{title}</h2>
      </summary>
      {children}
    </details>
  )
}

function FindingList({ groups, ordered = false }: { groups: readonly (readonly Finding[])[]; ordered?: boolean }) {
  const items = groups.map((group) => {
    const { rule, place, verdict, says, provisional, flips, restsOn } = group[0]!
    const doubtful = flips[0] ?? restsOn[0]
    const isUrgent = verdict === 'urgent'
    return (
      <li key={`${rule} ${JSON.stringify(place)}`} class={isUrgent ? 'finding is-urgent' : 'finding'}>
        <p class="finding-place">
          {isUrgent && <strong class="urgent">Urgent</strong>}
          {placeWords(group)}
        </p>
        <p>{says.what}</p>
        {says.next !== '' && <p class="finding-next">{says.next}</p>}
        {provisional && (
          <p class="fine">
            <span class="flag flag-check">not certain</span>
            {doubtful && ` It rests on “${doubtful.quote}”.`}
          </p>
        )}
      </li>
    )
  })
  return ordered ? <ol class="findings">{items}</ol> : <ul class="findings">{items}</ul>
}
