/** What the keeper is told without looking. */
export type Sign = 'understood' | 'again' | 'alarm'

/** Notes of a sign: pitch in Hz, length in seconds. Rising is good, falling asks for more, and an alarm repeats. */
const NOTES: Record<Sign, readonly (readonly [hertz: number, seconds: number])[]> = {
  understood: [
    [660, 0.07],
    [880, 0.09],
  ],
  again: [
    [520, 0.14],
    [330, 0.22],
  ],
  alarm: [
    [990, 0.12],
    [0, 0.06],
    [990, 0.12],
    [0, 0.06],
    [990, 0.2],
  ],
}

const BUZZES: Record<Sign, number[]> = { understood: [40], again: [90, 70, 90], alarm: [250, 100, 250, 100, 250] }

let context: AudioContext | undefined

/** Browsers let a page sound only after a touch: call this from one. */
export function wakeTones(): void {
  context ??= new AudioContext()
  void context.resume()
}

/** Plays a sign; silent where no touch came before. */
export function playSign(sign: Sign): void {
  if (context?.state !== 'running') return
  const source = context.createBufferSource()
  source.buffer = bufferOf(sign, context)
  source.connect(context.destination)
  source.start()
}

const buffers = new Map<Sign, AudioBuffer>()

/** A sign as it sounds, worked out when it is played first: building it of waves and gains each time would take a phone milliseconds. */
function bufferOf(sign: Sign, { sampleRate }: AudioContext): AudioBuffer {
  let buffer = buffers.get(sign)
  if (!buffer) {
    const waves = NOTES[sign].map(([hertz, seconds]) => wave(hertz, Math.round(seconds * sampleRate), sampleRate))
    buffer = new AudioBuffer({ length: waves.reduce((sum, { length }) => sum + length, 0), sampleRate })
    let at = 0
    for (const one of waves) {
      buffer.copyToChannel(one, 0, at)
      at += one.length
    }
    buffers.set(sign, buffer)
  }
  return buffer
}

/** Seconds in which a tone grows and fades: one that begins or ends at once clicks. */
const [GROWS, FADES] = [0.01, 0.02]
const LOUD = 0.5

/** A triangle wave of so many samples. */
function wave(hertz: number, length: number, sampleRate: number): Float32Array<ArrayBuffer> {
  return Float32Array.from({ length }, (_, i) => {
    const phase = (i * hertz) / sampleRate
    const swing = 4 * Math.abs(phase - Math.floor(phase + 0.5)) - 1
    const loud = Math.min(1, i / (GROWS * sampleRate), (length - i) / (FADES * sampleRate))
    return hertz > 0 ? LOUD * loud * swing : 0
  })
}

/** Makes the phone tremble; nothing happens on a machine that cannot. */
export function buzz(sign: Sign): void {
  navigator.vibrate?.(BUZZES[sign])
}
