import { batch, type ReadonlySignal, signal } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import { dayInName, localDay } from '../cli/days.ts'
import { fetchFitted } from '../fitted/later.ts'
import { phraseList } from '../hints/lists.ts'
import { vocabularyOf } from '../hints/vocabulary.ts'
import { isQuestion } from '../live/commands.ts'
import { decode } from '../transcript/decode.ts'
import type { Transcript } from '../transcript/transcript.ts'
import type { Home } from '../web-server/services.ts'
import { browserEar } from './ears/browser-ear.ts'
import type { Ear, Heard } from './ears/ears.ts'
import { type Listening, openListening } from './ears/listening.ts'
import { recorderEar } from './ears/recorder-ear.ts'
import { isLocal } from './ears/speech-api.ts'
import { buzz, playSign, type Sign, wakeTones } from './feedback/tones.ts'
import { openVoice } from './feedback/voice.ts'
import { askHome } from './home/client.ts'
import { handOver } from './home/hand-over.ts'
import { writeDown } from './home/written-down.ts'
import { type Database, openDatabase, type Source, type VisitRow } from './store/database.ts'
import { firstSettings, loadSettings, type Settings, saveSettings } from './store/settings.ts'
import { beginSound, dropSound, keepPart, waitingSounds } from './store/sounds.ts'
import { addVisit, isEmpty, isWaiting, listVisits, openKept, removeVisit } from './store/visits.ts'
import { openBrought } from './visit/brought.ts'
import { earlierRecords } from './visit/earlier.ts'
import { openVisit, type VisitInHand } from './visit/visit-in-hand.ts'
import { warmUp } from './visit/warm-up.ts'
import { type YardInUse, yardFromText } from './yard-in-use.ts'

/** How many phrases a recogniser is given: the most telling stand first. */
const PHRASES = 200

/** Milliseconds that the page waits for what was learned of clauses and calls, before it opens without. */
const LEARNED = 1500

/** Milliseconds after which a server on this machine that was not there is looked for again. */
const LOOK_AGAIN = 30_000

/** What the page has to say that belongs to no utterance. */
export interface Notice {
  readonly text: string
  readonly is: 'said' | 'fault'
}

/** Everything the screens show and can do. */
export interface Page {
  readonly db: Database
  readonly settings: ReadonlySignal<Settings>
  readonly visits: ReadonlySignal<readonly VisitRow[]>
  readonly visit: ReadonlySignal<VisitInHand>
  /** The server at home, while it answers. */
  readonly home: ReadonlySignal<Home | null>
  readonly yard: ReadonlySignal<YardInUse | undefined>
  readonly notice: ReadonlySignal<Notice | null>
  /** Recordings of the visit in hand that wait to be written down. */
  readonly sounds: ReadonlySignal<number>
  /** The keeper is to choose how the page shall hear. */
  readonly choosing: ReadonlySignal<boolean>
  readonly listening: Listening
  choose(some: Partial<Settings>): Promise<void>
  /** Starts or stops listening; asks first how to hear, if that was never chosen. */
  toggle(): Promise<void>
  askEars(shown: boolean): void
  say(words: string, by: Source): void
  tell(text: string, is?: Notice['is']): void
  /** Begins a new visit and turns to it. */
  begin(): Promise<void>
  turnTo(id: string): Promise<void>
  /** Brings in a transcript of any known format as a visit of its own. */
  bring(text: string | Uint8Array, name: string): Promise<void>
  /** Brings in a recording as a visit of its own; it waits for the recogniser at home. */
  bringSound(recording: Blob, name: string): Promise<void>
  /** Takes a visit away for good; the screen asks before. */
  remove(id: string): Promise<void>
  /** Hands over whatever the logbook lacks. */
  handOverAll(): Promise<void>
  /** Looks whether the server at home is there. */
  lookHome(): Promise<void>
}

const Context = createContext<Page | null>(null)
export const PageContext = Context
export const usePage = (): Page => {
  const page = useContext(Context)
  if (!page) throw new Error('the page is not open yet')
  return page
}

/** Opens what is kept on this machine: the latest visit, or a first one. */
export async function openPage(): Promise<Page> {
  const learned = fetchFitted()
  const db = await openDatabase()
  const settings = signal<Settings>(await loadSettings(db).catch(() => firstSettings))
  const visits = signal<readonly VisitRow[]>(await listVisits(db))
  const home = signal<Home | null>(null)
  const yard = signal<YardInUse | undefined>(ownYard(settings.value.yard))
  const notice = signal<Notice | null>(null)
  const sounds = signal(0)
  /** Stretches of sound that go on just now: not yet to be written down. */
  const recording = new Set<string>()
  const choosing = signal(false)
  const tell = (text: string, is: Notice['is'] = 'said'): void => {
    notice.value = { text, is }
  }

  /** Whether it was there before the visit was opened. */
  const inTime = await Promise.race([learned, new Promise<null>((resolve) => setTimeout(() => resolve(null), LEARNED))])
  const visit = signal(await opened(await todays()))

  /** The visit to go on with: today's latest; what is spoken on another day is another visit. */
  async function todays(): Promise<string> {
    const latest = visits.value[0]
    if (latest?.date === localDay(new Date())) return latest.id
    if (latest && (await isEmpty(db, latest))) await removeVisit(db, latest.id)
    const { id } = await addVisit(db, new Date())
    visits.value = await listVisits(db)
    return id
  }

  async function opened(id: string): Promise<VisitInHand> {
    const kept = await openKept(db, id)
    if (!kept) throw new Error('the visit is gone')
    const history = await earlierRecords(db, kept.row, yard.value)
    return openVisit(db, kept, {
      yard: yard.value,
      history,
      file: await broughtTo(kept.row),
      lost: (error) => tell(`This could not be kept on this machine (${error.message}).`, 'fault'),
    })
  }

  /** The transcript of a visit that was brought; none of it is shown while what opens it is not on this device. */
  async function broughtTo({ brought }: VisitRow): Promise<Transcript | null> {
    if (!brought) return null
    return openBrought(brought.text, brought.name).catch((error: Error) => {
      tell(error.message, 'fault')
      return { name: brought.name, format: 'plain', text: '', segments: [] }
    })
  }

  const refresh = async (): Promise<void> => {
    visits.value = await listVisits(db)
  }
  const countSounds = async (): Promise<void> => {
    const waiting = await waitingSounds(db, visit.value.row.value.id)
    sounds.value = waiting.filter(({ id }) => !recording.has(id)).length
  }

  const sign = (one: Sign): void => {
    if (settings.value.tones) playSign(one)
    if (settings.value.buzz) buzz(one)
  }

  const heard: Heard = {
    hearing: (words) => visit.value.setHearing(words),
    said: (words) => say(words, 'recognised'),
    unclear: () => sign('again'),
    failed: (why) => tell(why, 'fault'),
  }
  const voice = openVoice(
    () => listening.hold(),
    () => listening.resume(),
  )

  const listening = openListening(heard, async (told): Promise<Ear | null> => {
    const lang = /^en\b/.test(navigator.language) ? navigator.language : 'en-GB'
    const local = await isLocal(lang)
    if (settings.value.ears === 'browser') {
      const phrases = phraseList(vocabularyOf(undefined)).trimEnd().split('\n').slice(0, PHRASES)
      const names = (yard.value?.hints.hives ?? []).flatMap(({ name, said = [] }) => [name, ...said])
      return browserEar(told, { lang, phrases: [...names, ...phrases], local })
    }
    if (settings.value.ears !== 'recorder') return null
    return recorderEar(told, {
      async begin(mime) {
        const { id } = await beginSound(db, visit.value.row.value.id, mime)
        recording.add(id)
        let seq = 0
        return {
          keep: (bytes) => keepPart(db, id, seq++, bytes),
          async end(spoke) {
            recording.delete(id)
            if (!spoke) await dropSound(db, id)
            await countSounds()
            if (spoke) await writeDownNow()
          },
        }
      },
    })
  })

  function say(words: string, by: Source): void {
    const { row } = visit.value
    if (row.value.brought !== null) {
      // What was brought in from a file stays as it is: speech goes to a visit of its own.
      void begin().then(() => say(words, by))
      return
    }
    const answer = visit.value.say(words, by)
    const isHeard = answer.understood.length + answer.takenBack.length > 0 || answer.moved || answer.isCommand !== null
    const isUnclear = answer.doubtful.length > 0 || (!isHeard && by !== 'typed')
    sign(answer.alarms.length > 0 ? 'alarm' : isUnclear ? 'again' : 'understood')
    // Who asks aloud wants to hear the answer.
    const isAsked = answer.isCommand !== null && isQuestion(answer.isCommand) && by !== 'typed'
    if (settings.value.readBack || isAsked) voice.speak(answer.lines.join('. '))
  }

  let writing: Promise<void> = Promise.resolve()
  /** One after the other: words come in the order in which they were spoken. */
  function writeDownNow(): Promise<void> {
    const { id } = visit.value.row.value
    // Of a visit that was turned away from the rest waits until it is in hand again.
    const isInHand = (): boolean => visit.value.row.value.id === id
    writing = writing
      .then(async () => {
        const outcome = await writeDown(
          db,
          id,
          (sound) => !recording.has(sound) && isInHand(),
          async (words) => {
            if (!isInHand()) return false
            say(words, 'recorded')
            await visit.value.kept()
            return true
          },
          () => sign('again'),
        )
        await countSounds()
        if (typeof outcome === 'object') tell(outcome.why, 'fault')
      })
      .catch((error: Error) => tell(`A recording could not be written down (${error.message}).`, 'fault'))
    return writing
  }

  async function begin(): Promise<void> {
    listening.stop()
    await visit.value.kept()
    if (await isEmpty(db, visit.value.row.value)) return
    const row = await addVisit(db, new Date())
    await turnTo(row.id)
  }

  async function turnTo(id: string): Promise<void> {
    if (id !== visit.value.row.value.id) listening.stop()
    await visit.value.kept()
    const next = await opened(id)
    await refresh()
    batch(() => {
      visit.value = next
      notice.value = null
    })
    await countSounds()
    if (home.value?.recogniser && sounds.value > 0) void writeDownNow()
  }

  async function lookHome(): Promise<void> {
    const reply = await askHome()
    const before = home.value
    home.value = reply.is === 'answer' ? reply.value : null
    const fromHome = home.value?.yard
    if (fromHome && settings.value.yard === '' && JSON.stringify(fromHome) !== JSON.stringify(yard.value)) {
      yard.value = fromHome
      // What was said before is read with the names of the yard, too; not in the middle of a sentence.
      if (!listening.on.value) await turnTo(visit.value.row.value.id)
    }
    if (home.value?.recogniser && !before && sounds.value > 0) await writeDownNow()
  }

  await countSounds()
  void lookHome()
  // What was said before they came is read with them, too; not in the middle of a sentence.
  if (inTime === null)
    void learned.then((came) => {
      if (came && !listening.on.value) void turnTo(visit.value.row.value.id)
    })
  void learned.then(() => warmUp(() => visit.value.heard.value.length === 0 && visit.value.hearing.value === ''))
  addEventListener('unhandledrejection', ({ reason }) => {
    tell(`Something went wrong in the page (${reason instanceof Error ? reason.message : reason}).`, 'fault')
  })
  addEventListener('online', () => void lookHome())
  addEventListener('offline', () => {
    home.value = null
  })
  // A phone comes back into its pocket's view at home, a server is started later: nobody wants to reload for that.
  const lookAgain = (): void => {
    if (document.visibilityState === 'visible' && home.value === null) void lookHome()
  }
  document.addEventListener('visibilitychange', lookAgain)
  if (/^(localhost|127\.|\[::1\])/.test(location.hostname)) setInterval(lookAgain, LOOK_AGAIN)

  return {
    ...{ db, settings, visits, visit, home, yard, notice, sounds, choosing, listening },
    async choose(some) {
      settings.value = { ...settings.value, ...some }
      await saveSettings(db, settings.value)
      if (some.yard === undefined) return
      yard.value = ownYard(some.yard) ?? home.value?.yard ?? undefined
      await turnTo(visit.value.row.value.id)
    },
    async toggle() {
      wakeTones()
      if (listening.on.value) return listening.stop()
      if (settings.value.ears === null || settings.value.ears === 'none') {
        choosing.value = true
        return
      }
      notice.value = null
      // Without this a browser short of space may clear what was said.
      void navigator.storage?.persist?.()
      if (visit.value.row.value.brought !== null) await begin()
      await listening.start()
    },
    askEars(shown) {
      choosing.value = shown
    },
    say,
    tell,
    begin,
    turnTo,
    async bring(given, name) {
      const { text, notices = [] } = await openBrought(given, name)
      if (text.trim() === '') return
      const whole = decode(given, name)
      const row = await addVisit(db, new Date(), { name, text: whole }, dayInName(name))
      await turnTo(row.id)
      if (notices[0]) tell(`${name}: ${notices[0].message}`)
    },
    async bringSound(recording, name) {
      const row = await addVisit(db, new Date(), null, dayInName(name))
      const { id } = await beginSound(db, row.id, recording.type)
      await keepPart(db, id, 0, await recording.arrayBuffer())
      await turnTo(row.id)
    },
    async remove(id) {
      await removeVisit(db, id)
      await refresh()
      if (visit.value.row.value.id !== id) return
      const next = visits.value[0] ?? (await addVisit(db, new Date()))
      await turnTo(next.id)
    },
    async handOverAll() {
      await visit.value.kept()
      await refresh()
      let done = 0
      for (const row of visits.value.filter(isWaiting)) {
        const reply = await handOver(db, row.id)
        if (reply.is === 'answer') {
          done++
          if (row.id === visit.value.row.value.id) visit.value.setRow(reply.value)
        } else {
          await refresh()
          return tell(
            reply.is === 'no' ? reply.why : 'The logbook does not answer; everything stays here until it does.',
            'fault',
          )
        }
      }
      await refresh()
      tell(done === 1 ? 'One visit is in the logbook.' : `${done} visits are in the logbook.`)
    },
    lookHome,
  }
}

/** The yard file that was put into this page; one that cannot be used any more counts as none. */
function ownYard(text: string): YardInUse | undefined {
  if (text === '') return undefined
  try {
    return yardFromText(text)
  } catch {
    return undefined
  }
}
