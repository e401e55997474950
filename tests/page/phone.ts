import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserContext, chromium, type Locator, type Page } from 'playwright-core'

/** Debian's browser; a fresh profile, and nothing of its own to fetch. */
const program = '/usr/bin/chromium'
const flags = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** Why the tests of the page cannot run here; undefined where they can. */
export const lacking = (): string | undefined =>
  existsSync(program) ? undefined : `${program} is missing; run node tests/tools/needs.mjs`

export interface Phone {
  readonly context: BrowserContext
  readonly page: Page
  /** Folder of what this browser keeps. */
  readonly profile: string
  close(): Promise<void>
}

/** A browser at phone size with a profile of its own; `size` and `scheme` for other looks at the page. */
export async function openPhone(
  options: {
    width?: number
    height?: number
    scheme?: 'light' | 'dark'
    touch?: boolean
    flags?: string[]
    profile?: string
  } = {},
): Promise<Phone> {
  const { width = 360, height = 740, scheme = 'light', touch = true, flags: more = [] } = options
  const profile = options.profile ?? mkdtempSync(join(tmpdir(), 'combscribe-page-'))
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: program,
    args: [...flags, ...more],
    viewport: { width, height },
    colorScheme: scheme,
    hasTouch: touch,
    isMobile: touch,
    locale: 'en-GB',
    permissions: ['microphone'],
  })
  await context.addInitScript(speechForTests)
  const page = context.pages()[0] ?? (await context.newPage())
  return {
    context,
    page,
    profile,
    async close() {
      await context.close()
      rmSync(profile, { recursive: true, force: true })
    },
  }
}

/**
 * Runs in the page before its own code: a recogniser with the browser's interface, told by the test what it hears. It
 * ends by itself after a while, as browsers' recognisers do; the page has to begin again.
 */
function speechForTests(): void {
  const listening = new Set<EventTarget>()
  class Phrase {
    constructor(
      readonly phrase: string,
      readonly boost: number,
    ) {}
  }
  class Recognition extends EventTarget {
    lang = ''
    continuous = false
    interimResults = false
    maxAlternatives = 1
    phrases: Phrase[] = []
    results: { isFinal: boolean; 0: { transcript: string; confidence: number }; length: number }[] = []
    start(): void {
      listening.add(this)
      this.dispatchEvent(new Event('start'))
    }
    stop(): void {
      if (listening.delete(this)) setTimeout(() => this.dispatchEvent(new Event('end')))
    }
    abort(): void {
      this.stop()
    }
    hear(transcript: string, isFinal: boolean): void {
      const at = this.results.findIndex((result) => !result.isFinal)
      const index = at < 0 ? this.results.length : at
      this.results[index] = { isFinal, 0: { transcript, confidence: 0.9 }, length: 1 }
      const event = new Event('result')
      this.dispatchEvent(Object.assign(event, { results: this.results, resultIndex: index }))
    }
  }
  const speak = (transcript: string, isFinal = true): boolean => {
    for (const one of listening) (one as Recognition).hear(transcript, isFinal)
    return listening.size > 0
  }
  const tire = (): void => {
    for (const one of listening) (one as Recognition).stop()
  }
  /** What the recogniser was told to expect. */
  const phrases = (): string[] =>
    [...listening].flatMap((one) => (one as Recognition).phrases.map((each) => each.phrase))
  const speechForTests = { speak, tire, phrases }
  Object.assign(globalThis, { SpeechRecognition: Recognition, SpeechRecognitionPhrase: Phrase, speechForTests })
}

/** Speaks into the page's recogniser as soon as it listens; not final: words of a sentence that goes on. */
export async function speak(page: Page, words: string, isFinal = true): Promise<void> {
  await page.waitForFunction(
    ([said, final]) =>
      (globalThis as unknown as { speechForTests: { speak(s: string, f: boolean): boolean } }).speechForTests.speak(
        said as string,
        final as boolean,
      ),
    [words, isFinal] as const,
  )
}

/** The text as a person sees it, with the breaks between blocks. */
// biome-ignore lint/performance/useDomNodeTextContent: what is hidden must not count as shown
export const shown = (locator: Locator): Promise<string> => locator.innerText()
