import { useState } from 'preact/hooks'
import { CombscribeError } from '../../errors.ts'
import { shortDay } from '../../report/due.ts'
import { counted, sayDay } from '../../report/words.ts'
import { hasVoice } from '../feedback/voice.ts'
import { newVersion } from '../new-version.ts'
import { usePage } from '../page.ts'
import { AskedButton } from '../parts/asking.tsx'
import { Promised } from '../parts/promised.tsx'
import type { VisitRow } from '../store/database.ts'
import type { Settings } from '../store/settings.ts'
import { isWaiting } from '../store/visits.ts'
import { yardFromText } from '../yard-in-use.ts'

/** The visits that are kept here, handing them over, and how the page behaves. */
export function Visits() {
  const page = usePage()
  const inHand = page.visit.value.row.value
  const rows = page.visits.value.map((row) => (row.id === inHand.id ? inHand : row))
  const waiting = rows.filter(isWaiting)
  const home = page.home.value
  const [isBusy, setBusy] = useState(false)
  return (
    <section class="visits-screen" aria-labelledby="visits-title">
      <h1 id="visits-title">Visits</h1>
      <p class="promise">
        <Promised />
      </p>
      <div class="columns">
        <section class="card">
          <h2>Kept here</h2>
          <ul class="visits">
            {rows.map((row) => (
              <VisitItem key={row.id} row={row} isInHand={row.id === inHand.id} />
            ))}
          </ul>
          <button type="button" class="plain wide" onClick={() => void page.begin()}>
            Begin a new visit
          </button>
        </section>
        <section class="card">
          <h2>Logbook</h2>
          {home?.logbook ? (
            <p>
              {waiting.length === 0
                ? 'The logbook has everything that was said here.'
                : `The logbook lacks ${counted(waiting.length, 'visit')} or what was put right in them.`}
            </p>
          ) : (
            <p>
              {home
                ? 'This combscribe serve has no logbook; start it with --logbook.'
                : 'No logbook is in reach. Everything is kept here and can be handed over later.'}
              {waiting.length > 0 && ` Waiting: ${counted(waiting.length, 'visit')}.`}
            </p>
          )}
          <button
            type="button"
            class="strong wide"
            disabled={waiting.length === 0 || !home?.logbook || isBusy}
            onClick={() => {
              setBusy(true)
              void page.handOverAll().finally(() => setBusy(false))
            }}
          >
            {isBusy ? 'Handing over …' : 'Hand over to the logbook'}
          </button>
          {!home?.logbook && (
            <button type="button" class="plain wide" onClick={() => void page.lookHome()}>
              Look again
            </button>
          )}
        </section>
        <SettingsCard />
      </div>
    </section>
  )
}

function VisitItem({ row, isInHand }: { row: VisitRow; isInHand: boolean }) {
  const page = usePage()
  const { id, date, begun, utterances, brought } = row
  const what = brought ? `transcript ${brought.name}` : `${utterances} said`
  const state = isWaiting(row) ? 'only here' : utterances === 0 && !brought ? 'empty' : 'in the logbook'
  return (
    <li class={isInHand ? 'is-in-hand' : ''}>
      <button type="button" class="visit-turn" aria-pressed={isInHand} onClick={() => void page.turnTo(id)}>
        <strong>{shortDay(date)}</strong>
        <span>
          {new Date(begun).toTimeString().slice(0, 5)}, {what}
        </span>
        <span class={isWaiting(row) ? 'flag flag-check' : 'flag flag-plain'}>{state}</span>
      </button>
      <AskedButton
        label={
          <>
            Remove<span class="unseen"> the visit of {sayDay(date)}</span>
          </>
        }
        title="Remove this visit?"
        question={
          isWaiting(row)
            ? 'The logbook does not have all of it. What was said in it will be lost.'
            : 'The logbook has all of it; here it will be gone.'
        }
        yes="Remove it for good"
        act={() => void page.remove(id)}
      />
    </li>
  )
}

function SettingsCard() {
  const page = usePage()
  const settings = page.settings.value
  const { ears, tones, buzz, readBack, yard } = settings
  const set = (some: Partial<Settings>) => () => void page.choose(some)
  const hears = ears === 'browser' ? 'this browser’s recognition' : ears === 'recorder' ? 'recording here' : 'typing'
  return (
    <section class="card">
      <h2>Settings</h2>
      <button type="button" class="plain wide" onClick={() => page.askEars(true)}>
        {ears === null ? 'Choose how to hear' : `Hears by ${hears}; change`}
      </button>
      <label class="switch">
        <input type="checkbox" checked={tones} onChange={set({ tones: !tones })} />
        Sounds for “understood” and “say that again”
      </label>
      <label class="switch">
        <input type="checkbox" checked={buzz} onChange={set({ buzz: !buzz })} />
        Vibration for the same
      </label>
      <label class="switch">
        <input type="checkbox" checked={readBack} disabled={!hasVoice()} onChange={set({ readBack: !readBack })} />
        Answers are spoken{hasVoice() ? '' : ' (this machine has no voice of its own)'}
      </label>
      {newVersion.value && (
        <button type="button" class="strong wide" onClick={newVersion.value}>
          A newer page is here: take it
        </button>
      )}
      <YardFile text={yard} isFromHome={yard === '' && page.home.value?.yard != null} />
    </section>
  )
}

function YardFile({ text, isFromHome }: { text: string; isFromHome: boolean }) {
  const page = usePage()
  const [fault, setFault] = useState('')
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return
    try {
      const given = await file.text()
      yardFromText(given)
      await page.choose({ yard: given })
      setFault('')
    } catch (error) {
      if (!(error instanceof CombscribeError)) throw error
      setFault(error.message)
    }
  }
  return (
    <>
      <label class="drop">
        <span>
          {text !== ''
            ? 'A yard file is in use; open another'
            : isFromHome
              ? 'The yard file of combscribe serve is in use; open another'
              : 'Open a yard file: names of hives, own words'}
        </span>
        <input type="file" onChange={(event) => void take(event.currentTarget.files?.[0])} />
      </label>
      {fault !== '' && (
        <p role="alert" class="fault">
          {fault}
        </p>
      )}
    </>
  )
}
