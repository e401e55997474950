import type { Ear, Heard } from './ears.ts'
import { pauseFinder, type Stretch } from './pauses.ts'

/** Where recorded stretches of sound go. */
export interface Reel {
  /** A stretch begins. */
  begin(mime: string): Promise<{ keep(bytes: ArrayBuffer): Promise<void>; end(spoke: boolean): Promise<void> }>
}

const TYPES = ['audio/webm;codecs=opus', 'audio/mp4', 'audio/ogg;codecs=opus']
/**
 * What browsers do to make calls pleasant (gates, gains, echoes taken out) bends what recognisers listen to: of six
 * sentences of synthesised speech pocketsphinx gave three right with it and six without.
 */
const AS_IT_IS = { channelCount: 1, echoCancellation: false, noiseSuppression: false, autoGainControl: false }
/** Milliseconds between two parts of a recording: what a dead battery can cost at most. */
const PART = 1000
const LOOK = 100

/** Records, cut at pauses, one stretch an utterance; the sound goes to `reel` as it is spoken. */
export function recorderEar(heard: Heard, reel: Reel): Ear {
  let stream: MediaStream | null = null
  let context: AudioContext | null = null
  let timer: ReturnType<typeof setInterval> | undefined
  let running: { recorder: MediaRecorder; end(stretch: Stretch): void } | null = null
  let wanted = false
  const pauses = pauseFinder({ quiet: 0.9, longest: 30 })

  const record = (): void => {
    if (!stream) return
    const mimeType = TYPES.find((type) => MediaRecorder.isTypeSupported(type))
    const now = new MediaRecorder(stream, mimeType === undefined ? {} : { mimeType })
    const kept = reel.begin(now.mimeType)
    let last: Promise<unknown> = kept
    now.addEventListener('dataavailable', ({ data }) => {
      last = last.then(async () => (await kept).keep(await data.arrayBuffer()))
    })
    // Whether anything was said is known at the cut; the recorder's last part comes later.
    let spoke = false
    now.addEventListener('stop', () => {
      last.then(async () => (await kept).end(spoke)).catch((error: Error) => heard.failed(lost(error)))
    })
    now.start(PART)
    running = {
      recorder: now,
      end(stretch) {
        spoke = stretch.spoke
        if (now.state !== 'inactive') now.stop()
      },
    }
  }

  const close = (): void => {
    clearInterval(timer)
    running?.end(pauses.end())
    running = null
    for (const track of stream?.getTracks() ?? []) track.stop()
    stream = null
    void context?.close()
    context = null
  }

  return {
    async start() {
      wanted = true
      let opened: MediaStream
      try {
        opened = await navigator.mediaDevices.getUserMedia({ audio: AS_IT_IS })
      } catch (error) {
        heard.failed(
          (error as Error).name === 'NotAllowedError'
            ? 'The browser was not allowed to use the microphone; allow it in the browser’s settings.'
            : 'No microphone was found.',
        )
        return
      }
      if (!wanted) {
        // Stopped while the browser asked for the microphone.
        for (const track of opened.getTracks()) track.stop()
        return
      }
      stream = opened
      for (const track of opened.getTracks())
        track.addEventListener('ended', () => {
          close()
          heard.failed('The microphone went away; press Start when it is back.')
        })
      context = new AudioContext()
      const meter = context.createAnalyser()
      context.createMediaStreamSource(opened).connect(meter)
      const wave = new Float32Array(meter.fftSize)
      record()
      timer = setInterval(() => {
        meter.getFloatTimeDomainData(wave)
        let sum = 0
        for (const sample of wave) sum += sample * sample
        const stretch = pauses.hear(Math.sqrt(sum / wave.length), performance.now() / 1000)
        if (!stretch) return
        // The next stretch begins before this one ends: nothing is lost in between.
        const done = running
        record()
        done?.end(stretch)
      }, LOOK)
    },
    stop() {
      wanted = false
      close()
    },
    hold() {
      for (const track of stream?.getTracks() ?? []) track.enabled = false
    },
    resume() {
      for (const track of stream?.getTracks() ?? []) track.enabled = true
    },
  }
}

const lost = (error: Error): string =>
  `The recording could not be kept (${error.message}); is the phone’s storage full?`
