import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { sayDay } from '../report/words.ts'
import { type Page, PageContext } from './page.ts'
import { EarsSheet } from './screens/ears-sheet.tsx'
import { Next } from './screens/next.tsx'
import { PastScreen } from './screens/past.tsx'
import { Speak } from './screens/speak.tsx'
import { Visits } from './screens/visits.tsx'
import { Words } from './screens/words.tsx'
import { isWaiting } from './store/visits.ts'

const SCREENS = { speak: 'Speak', words: 'Words', next: 'Next', past: 'Past', visits: 'Visits' } as const
type Screen = keyof typeof SCREENS

const screenNow = (): Screen => {
  const name = location.hash.slice(1)
  return name in SCREENS ? (name as Screen) : 'speak'
}

/** Wide enough for two screens beside each other: speaking stays in view. */
const WIDE = matchMedia('(min-width: 60rem)')

/** The frame around the screens: whose visit it is, what is in view, the way to the others. */
export function App({ page }: { page: Page }) {
  const screen = useSignal(screenNow())
  const isWide = useSignal(WIDE.matches)
  useEffect(() => {
    const turn = (): void => {
      screen.value = screenNow()
      page.visit.value.settle()
      scrollTo(0, 0)
    }
    const widen = (): void => {
      isWide.value = WIDE.matches
    }
    addEventListener('hashchange', turn)
    WIDE.addEventListener('change', widen)
    return () => {
      removeEventListener('hashchange', turn)
      WIDE.removeEventListener('change', widen)
    }
  }, [])
  const shown = isWide.value && screen.value === 'speak' ? 'words' : screen.value
  return (
    <PageContext.Provider value={page}>
      <Head page={page} />
      <Told page={page} />
      <main class={isWide.value ? 'is-wide' : ''}>
        {(isWide.value || shown === 'speak') && <Speak />}
        {shown === 'words' && <Words />}
        {shown === 'next' && <Next />}
        {shown === 'past' && <PastScreen />}
        {shown === 'visits' && <Visits />}
        {page.choosing.value && <EarsSheet />}
      </main>
      <Ways page={page} shown={shown} isWide={isWide.value} />
    </PageContext.Provider>
  )
}

function Head({ page }: { page: Page }) {
  const row = page.visit.value.row.value
  return (
    <header class="head">
      <p class="head-visit">
        <strong>{sayDay(row.date)}</strong>
        <span>{row.brought ? 'transcript' : `${row.utterances} said`}</span>
      </p>
      <p class={page.home.value?.logbook ? 'head-home is-there' : 'head-home'}>
        {page.home.value?.logbook ? 'logbook in reach' : 'kept here'}
      </p>
    </header>
  )
}

/** What the page itself has to say. */
function Told({ page }: { page: Page }) {
  const notice = page.notice.value
  return (
    <div role="status" class="told">
      {notice && <p class={notice.is === 'fault' ? 'fault' : ''}>{notice.text}</p>}
    </div>
  )
}

function Ways({ page, shown, isWide }: { page: Page; shown: Screen; isWide: boolean }) {
  const inHand = page.visit.value.row.value
  const waiting = page.visits.value.filter((row) => isWaiting(row.id === inHand.id ? inHand : row)).length
  return (
    <nav class="ways" aria-label="Screens">
      {(Object.keys(SCREENS) as Screen[])
        .filter((name) => !isWide || name !== 'speak')
        .map((name) => (
          <a key={name} href={`#${name}`} aria-current={name === shown ? 'page' : undefined}>
            {SCREENS[name]}
            {name === 'visits' && waiting > 0 && (
              <span class="count">
                {waiting}
                <span class="unseen"> not handed over</span>
              </span>
            )}
          </a>
        ))}
    </nav>
  )
}
