import { CombscribeError } from '../errors.ts'
import { openTranscript } from '../transcript/open.ts'
import type { Transcript } from '../transcript/transcript.ts'
import { shownPath } from './files.ts'

/** The transcript in a file's bytes. Throws for what is no transcript, and for what is far too long for a dictated note. */
export function openNote(bytes: Uint8Array, path: string): Transcript {
  const transcript = openTranscript(bytes, shownPath(path))
  const { length } = transcript.text
  if (length <= longest) return transcript
  const size = `${Math.round(length / 1e6)} million characters`
  throw new CombscribeError('unreadable', `${size} are no dictated note`, shownPath(path), 'give one file a visit')
}

/** Some ninety hours of talk without a break: no note, but a wrong file, and minutes of waiting for nothing. */
const longest = 5_000_000
