/**
 * The browser's speech recognition (Web Speech API, W3C draft), as far as the page uses it. TypeScript's library knows
 * its events only, because no two browsers have all of it.
 */
export interface Recognition extends EventTarget {
  lang: string
  continuous: boolean
  interimResults: boolean
  maxAlternatives: number
  /** Phrases to expect; where the browser takes them. */
  phrases?: unknown
  /** The sound stays on this machine; where the browser can. */
  processLocally?: boolean
  start(): void
  stop(): void
  abort(): void
}

interface RecognitionClass {
  new (): Recognition
  /** Whether a language can be had, here on the machine or anywhere. */
  available?(options: { langs: string[]; processLocally: boolean }): Promise<string>
}

type PhraseClass = new (phrase: string, boost: number) => unknown

interface SpeechWindow {
  SpeechRecognition?: RecognitionClass
  webkitSpeechRecognition?: RecognitionClass
  SpeechRecognitionPhrase?: PhraseClass
}

const own = (): SpeechWindow => globalThis as SpeechWindow

/** The browser's recogniser; undefined where it has none. */
export const recognitionClass = (): RecognitionClass | undefined =>
  own().SpeechRecognition ?? own().webkitSpeechRecognition

/** How a phrase is handed over to a recogniser that takes phrases. */
export const phraseClass = (): PhraseClass | undefined => own().SpeechRecognitionPhrase

/** Whether the recogniser works without sending the sound anywhere. */
export async function isLocal(lang: string): Promise<boolean> {
  try {
    return (await recognitionClass()?.available?.({ langs: [lang], processLocally: true })) === 'available'
  } catch {
    return false
  }
}
