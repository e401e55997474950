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
  let at = context.currentTime + 0.01
  for (const [hertz, seconds] of NOTES[sign]) {
    if (hertz > 0) tone(context, hertz, at, seconds)
    at += seconds
  }
}

function tone(sound: AudioContext, hertz: number, at: number, seconds: number): void {
  const wave = sound.createOscillator()
  const gain = sound.createGain()
  wave.type = 'triangle'
  wave.frequency.value = hertz
  // A tone that begins or ends at once clicks.
  gain.gain.setValueAtTime(0, at)
  gain.gain.linearRampToValueAtTime(0.5, at + 0.01)
  gain.gain.setValueAtTime(0.5, at + seconds - 0.02)
  gain.gain.linearRampToValueAtTime(0, at + seconds)
  wave.connect(gain).connect(sound.destination)
  wave.start(at)
  wave.stop(at + seconds)
}

/** Makes the phone tremble; nothing happens on a machine that cannot. */
export function buzz(sign: Sign): void {
  navigator.vibrate?.(BUZZES[sign])
}
