import { signal } from '@preact/signals'

/**
 * Speaks with a voice of this machine. Voices that a browser would fetch from a service are never used: the answer
 * holds the keeper's words.
 */
export interface Voice {
  /** `before` runs when it begins to speak and `after` when all that was to be said is said. */
  speak(text: string): void
  hush(): void
}

/** English voices of this machine. Browsers look for them only when they are first asked, and tell when they are found. */
const ownVoices = signal<readonly SpeechSynthesisVoice[]>([])
if ('speechSynthesis' in globalThis) {
  const look = (): void => {
    ownVoices.value = speechSynthesis.getVoices().filter((voice) => voice.localService && /^en\b/.test(voice.lang))
  }
  look()
  speechSynthesis.addEventListener?.('voiceschanged', look)
}

const ownVoice = (): SpeechSynthesisVoice | undefined =>
  ownVoices.value.find((voice) => voice.lang === navigator.language) ?? ownVoices.value[0]

/** Whether this machine has a voice of its own that speaks English. */
export const hasVoice = (): boolean => ownVoice() !== undefined

export function openVoice(before: () => void, after: () => void): Voice {
  let waiting = 0
  const done = (): void => {
    waiting = Math.max(0, waiting - 1)
    if (waiting === 0) after()
  }
  return {
    speak(text) {
      const voice = ownVoice()
      if (!voice || text.trim() === '') return
      const speech = new SpeechSynthesisUtterance(text)
      speech.voice = voice
      speech.lang = voice.lang
      speech.addEventListener('end', done)
      speech.addEventListener('error', done)
      if (waiting++ === 0) before()
      speechSynthesis.speak(speech)
    },
    hush() {
      if ('speechSynthesis' in globalThis) speechSynthesis.cancel()
    },
  }
}
