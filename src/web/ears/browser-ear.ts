import type { Ear, Heard } from './ears.ts'
import { phraseClass, type Recognition, recognitionClass } from './speech-api.ts'

/** Browsers end "continuous" recognition after silence or a minute; then it is begun again, at first at once. */
const AGAIN = [50, 250, 1000, 3000]

const FAULTS: Record<string, string> = {
  'not-allowed': 'The browser was not allowed to use the microphone; allow it in the browser’s settings.',
  'service-not-allowed': 'This browser’s speech recognition is switched off; choose another way of hearing.',
  'audio-capture': 'No microphone was found.',
  'language-not-supported': 'This browser’s speech recognition has no English here; choose another way of hearing.',
  network: 'This browser’s speech recognition needs a network and there is none; record instead, or type.',
}

/**
 * Hears with the browser's own recogniser. `phrases`: what to expect, handed over where the browser takes it; `local`:
 * the recogniser is told to keep the sound on this machine.
 */
export function browserEar(heard: Heard, options: { lang: string; phrases: readonly string[]; local: boolean }): Ear {
  let wanted = false
  let held = false
  let running: Recognition | null = null
  let tries = 0
  let timer: ReturnType<typeof setTimeout> | undefined

  const begin = (): void => {
    const Class = recognitionClass()
    if (!Class || running || !wanted || held) return
    const recognition = new Class()
    recognition.lang = options.lang
    recognition.continuous = true
    recognition.interimResults = true
    recognition.maxAlternatives = 1
    if (options.local) recognition.processLocally = true
    giveHints(recognition, options.phrases)
    let fault: string | undefined
    let settled = 0
    /** Words of a sentence that is not settled yet. */
    let open = ''
    recognition.addEventListener('result', (event) => {
      tries = 0
      const { results, resultIndex } = event as SpeechRecognitionEvent
      open = ''
      for (let i = Math.min(resultIndex, settled); i < results.length; i++) {
        const result = results[i]!
        const words = result[0]?.transcript.trim() ?? ''
        if (!result.isFinal) open += `${open && words ? ' ' : ''}${words}`
        // Some engines give a final result again with every later event.
        else if (i >= settled) {
          settled = i + 1
          if (words !== '') heard.said(words)
        }
      }
      heard.hearing(open)
    })
    recognition.addEventListener('nomatch', () => heard.unclear())
    recognition.addEventListener('error', (event) => {
      const { error } = event as SpeechRecognitionErrorEvent
      if (error !== 'no-speech' && error !== 'aborted') fault = error
    })
    recognition.addEventListener('end', () => {
      running = null
      // It ended without settling them: they were said all the same.
      if (open !== '') heard.said(open)
      if (!wanted) return
      const why = fault === undefined ? undefined : FAULTS[fault]
      if (why !== undefined && (fault !== 'network' || tries >= AGAIN.length)) {
        wanted = false
        heard.failed(why)
        return
      }
      timer = setTimeout(begin, AGAIN[Math.min(tries++, AGAIN.length - 1)])
    })
    running = recognition
    try {
      recognition.start()
    } catch (error) {
      running = null
      wanted = false
      heard.failed(`The browser’s speech recognition did not start (${(error as Error).message}).`)
    }
  }

  const halt = (how: 'stop' | 'abort'): void => {
    clearTimeout(timer)
    running?.[how]()
  }

  return {
    async start() {
      wanted = true
      tries = 0
      begin()
    },
    stop() {
      wanted = false
      halt('stop')
    },
    hold() {
      held = true
      halt('stop')
    },
    resume() {
      held = false
      begin()
    },
  }
}

/** How much likelier than by itself a phrase of the trade is: the API's scale goes from 0 to 10. */
const BOOST = 3

function giveHints(recognition: Recognition, phrases: readonly string[]): void {
  const Phrase = phraseClass()
  if (!Phrase || !('phrases' in recognition)) return
  try {
    recognition.phrases = phrases.map((phrase) => new Phrase(phrase, BOOST))
  } catch {
    // A recogniser that takes no phrases hears without them.
  }
}
