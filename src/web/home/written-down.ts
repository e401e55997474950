import { asWav } from '../ears/wav.ts'
import type { Database } from '../store/database.ts'
import { dropSound, soundOf, waitingSounds } from '../store/sounds.ts'
import { askTranscript } from './client.ts'

/** What came of having recordings written down. */
export type Outcome = 'done' | 'away' | { readonly why: string }

/**
 * Has the waiting recordings of a visit written down at home, in the order in which they were spoken, but for those that
 * still go on (`isOver`). A recording is let go of only when its words are kept (`said` gives true)
 * or nothing was made out (`unclear`).
 */
export async function writeDown(
  db: Database,
  visit: string,
  isOver: (sound: string) => boolean,
  said: (words: string) => Promise<boolean>,
  unclear: () => void,
): Promise<Outcome> {
  let fault: Outcome = 'done'
  /** Those that could not be decoded: they stay, and are not tried again at once. */
  const undecoded = new Set<string>()
  for (;;) {
    // Asked anew each time: more is spoken while this is written down.
    const sound = (await waitingSounds(db, visit)).find(({ id }) => isOver(id) && !undecoded.has(id))
    if (!sound) return fault
    const recording = await soundOf(db, sound)
    if (recording.size === 0) {
      await dropSound(db, sound.id)
      continue
    }
    const wav = await asWav(recording).catch(() => null)
    if (!wav) {
      undecoded.add(sound.id)
      // Another browser, or its maker's player, may still make something of it.
      fault = { why: `The recording of ${sound.at.slice(11, 16)} could not be decoded here; it is kept.` }
      continue
    }
    const reply = await askTranscript(wav)
    if (reply.is === 'away') return 'away'
    if (reply.is === 'no') return { why: reply.why }
    const words = reply.value.transcript.trim()
    if (words === '') unclear()
    else if (!(await said(words))) return fault
    await dropSound(db, sound.id)
  }
}
