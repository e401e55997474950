import { useState } from 'preact/hooks'
import type { Alarm, Understood } from '../../live/answer.ts'
import { sayField, sayHive, sayValue } from '../../report/words.ts'
import { type Page, usePage } from '../page.ts'
import { FlagWord } from '../parts/flag.tsx'
import { memo } from '../parts/memo.tsx'
import { Promised } from '../parts/promised.tsx'
import { Signboard } from '../parts/signboard.tsx'
import type { Heard } from '../visit/visit-in-hand.ts'
import { TypeSheet } from './type-sheet.tsx'

/** Speaking at the hive: the place, what was understood, what is still to be said, and the one large control. */
export function Speak() {
  const page = usePage()
  const visit = page.visit.value
  const heard = visit.heard.value
  const [latest, ...before] = heard
  const hearing = visit.hearing.value
  return (
    <section class="speak" aria-labelledby="speak-title">
      <h1 id="speak-title" class="unseen">
        Speak
      </h1>
      <Signboard place={visit.place.value} />
      <Alarms />
      <div class="answers">
        <p class={`hearing ${hearing === '' ? 'is-empty' : ''}`}>
          {hearing === '' ? (page.listening.on.value ? 'Listening …' : '') : `“${hearing} …”`}
        </p>
        <div role="status" class="latest">
          {latest ? <AnswerCard heard={latest} isLatest /> : <Beginning page={page} />}
        </div>
        <HiveCheck />
        {before.length > 0 && (
          <ol class="earlier" aria-label="Said before, the latest first">
            {before.map((one) => (
              <li key={one.seq}>
                <AnswerCard heard={one} />
              </li>
            ))}
          </ol>
        )}
      </div>
      <Controls page={page} />
    </section>
  )
}

function Beginning({ page }: { page: Page }) {
  const said = page.visit.value.said.value.length
  if (page.visit.value.row.value.brought)
    return (
      <p class="hint">
        This visit is a transcript that was brought in. Its words, values and findings are on the other screens; what
        you speak begins a new visit.
      </p>
    )
  if (said > 0)
    return (
      <p class="hint">
        This visit goes on: <strong>{said}</strong> said so far, all of it kept here. Press Start and speak.
      </p>
    )
  return (
    <p class="hint">
      Press Start, say “hive two”, then what you see: “five frames of brood, eggs, no queen cells”. <Promised />
    </p>
  )
}

interface CardProps {
  readonly heard: Heard
  readonly isLatest?: boolean
}

const AnswerCard = memo(
  function AnswerCard({ heard, isLatest = false }: CardProps) {
    const { words, answer } = heard
    const { understood, takenBack, alarms, where, isCommand, lines } = answer
    const isEmpty = understood.length + takenBack.length + alarms.length === 0
    const other = (hive: string): string => (hive !== where.hive && hive !== '' ? `${sayHive(hive)}, ` : '')
    return (
      <article class={isLatest ? 'answer is-latest' : 'answer'}>
        {understood.length > 0 && (
          <ul class="understood">
            {understood.map((one) => (
              <li key={`${one.hive} ${one.box} ${one.frame} ${one.side} ${one.field} ${one.start} ${one.value}`}>
                {other(one.hive)}
                {valueWords(one)}{' '}
                <FlagWord flag={one.flag} words={one.flag === 'guess' ? 'a guess: say it again' : 'check'} />
              </li>
            ))}
          </ul>
        )}
        {takenBack.map((one) => (
          <p key={`${one.field} ${one.start}`} class="taken-back">
            Taken back: {other(one.hive)}
            {valueWords(one)}
          </p>
        ))}
        {isEmpty && isCommand && lines.length > 0 && (
          <ul class="reply">
            {lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
        {isEmpty && !isCommand && <p class="no-value">{answer.moved ? 'Here now.' : 'Kept; no value in it.'}</p>}
        <p class="words">“{words}”</p>
      </article>
    )
  },
  (before, now) => before.heard === now.heard && before.isLatest === now.isLatest,
)

const valueWords = ({ field, value, unit }: Understood): string => `${sayField(field)} ${sayValue(value, unit)}`

/** Alarms stay in sight, whatever is said next, until they are put away: those just told in full, earlier ones in a line. */
function Alarms() {
  const visit = usePage().visit.value
  const told = visit.heard.value[0]?.answer.alarms ?? []
  return (
    <div role="alert" class="alarms">
      {visit.alarms.value.map((alarm) => (
        <AlarmCard
          key={`${alarm.finding.rule} ${alarm.hive}`}
          alarm={alarm}
          isNew={told.includes(alarm)}
          seen={() => visit.putAway(alarm)}
        />
      ))}
    </div>
  )
}

function AlarmCard({ alarm, isNew, seen }: { alarm: Alarm; isNew: boolean; seen: () => void }) {
  const { what, next } = alarm.finding.says
  return (
    <details class="alarm" open={isNew}>
      <summary>
        <span>
          <strong>Attention{alarm.hive === null || alarm.hive === '' ? '' : `, ${sayHive(alarm.hive)}`}.</strong> {what}
        </span>
      </summary>
      <p>{next}</p>
      <button type="button" onClick={seen}>
        Seen
      </button>
    </details>
  )
}

/** What the rules still lack for the hive in hand: to be looked at before it is closed. */
function HiveCheck() {
  const { visit } = usePage()
  const { lacking, place, heard } = visit.value
  const open = lacking.value
  const isClosing = heard.value[0]?.answer.isCommand?.kind === 'close'
  if (open.length === 0) return null
  const first = open.filter(({ priority }) => priority === 'first').length
  return (
    <details class="hive-check" open={isClosing}>
      <summary>
        <span>
          Before you close {sayHive(place.value.hive)}: {open.length} not said
          {first > 0 && <span class="flag flag-check">{first} matter most</span>}
        </span>
      </summary>
      <ul>
        {open.map(({ field, ask, priority }) => (
          <li key={field} class={priority === 'first' ? 'is-first' : ''}>
            {ask}
          </li>
        ))}
      </ul>
    </details>
  )
}

function Controls({ page }: { page: Page }) {
  const [typing, setTyping] = useState(false)
  const on = page.listening.on.value
  const waiting = page.sounds.value
  return (
    <div class="controls">
      {waiting > 0 && (
        <p class="waiting-sounds">
          {waiting === 1 ? 'One recording waits' : `${waiting} recordings wait`} for a recogniser: they are written down
          when combscribe serve is in reach.
        </p>
      )}
      <button
        type="button"
        class={on ? 'main-control is-on' : 'main-control'}
        aria-pressed={on}
        onClick={() => void page.toggle()}
      >
        <span class="dot" aria-hidden="true" />
        {on ? 'Stop' : 'Start'}
      </button>
      <button type="button" class="side-control" onClick={() => setTyping(true)}>
        Type or open
      </button>
      {typing && <TypeSheet close={() => setTyping(false)} />}
    </div>
  )
}
