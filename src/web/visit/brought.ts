import { CombscribeError } from '../../errors.ts'
import type { Transcript } from '../../transcript/transcript.ts'

/**
 * Opens a transcript that was brought, of any known format. What knows the formats comes when the first is brought, or when
 * the page is there: speaking must not wait for it. Throws a `CombscribeError`.
 */
export async function openBrought(given: string | Uint8Array, name: string): Promise<Transcript> {
  const { openTranscript } = await import('../../transcript/open.ts').catch(() => {
    throw new CombscribeError(
      'missing-file',
      'the part of this page that opens transcripts has not come to this device yet',
      name,
      'open the page once more with a network',
    )
  })
  return openTranscript(given, name)
}
