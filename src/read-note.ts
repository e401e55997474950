import { type ReadOptions, readTranscript } from './read.ts'
import type { InspectionRecord } from './record/schema.ts'
import { openTranscript } from './transcript/open.ts'
import type { Transcript } from './transcript/transcript.ts'

/**
 * Reads one note: the bytes or text of any known transcript format, or an opened transcript, to its inspection record.
 * Throws a CombscribeError for input that is no transcript; unclear speech never throws.
 */
export function readNote(input: Uint8Array | string | Transcript, options: ReadOptions): InspectionRecord {
  const isOpen = typeof input !== 'string' && !(input instanceof Uint8Array)
  return readTranscript(isOpen ? input : openTranscript(input, options.name), options)
}
