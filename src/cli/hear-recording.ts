import { createWriteStream } from 'node:fs'
import { mkdtemp, open, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { ReadableStream } from 'node:stream/web'
import { CombscribeError } from '../errors.ts'
import type { Heard, InTurn } from '../web-server/services.ts'
import { openNote } from './open-note.ts'
import { recognise } from './recogniser.ts'

/**
 * What the recogniser hears in a WAV recording. The recording lies in a folder that only this user can read, and is
 * removed with it whatever happens; it is taken in at once and heard in its turn. `gone` ends the run. Silence is an empty transcript. Throws one sentence for
 * what is no WAV or cannot be heard.
 */
export async function hearRecording(
  recogniser: readonly string[],
  audio: ReadableStream<Uint8Array>,
  gone: AbortSignal,
  inTurn: InTurn,
): Promise<Heard> {
  const folder = await mkdtemp(join(tmpdir(), 'combscribe-take-'))
  try {
    const path = join(folder, 'take.wav')
    await pipeline(Readable.fromWeb(audio), createWriteStream(path, { mode: 0o600 }), { signal: gone })
    if (!(await isWav(path))) throw fault('this is no WAV recording', 'record it as WAV')
    const { text, words } = openNote(await inTurn(() => recognise(recogniser, path, gone)), 'take')
    return {
      transcript: text,
      ...(words && {
        words: words.map(({ start, end, at, until, confidence }) => ({
          start,
          end,
          ...(at === undefined ? {} : { at }),
          ...(until === undefined ? {} : { until }),
          ...(confidence === undefined ? {} : { confidence }),
        })),
      }),
    }
  } catch (error) {
    // A stretch of silence is no fault: nothing was said in it.
    if (error instanceof CombscribeError && /^(no-speech|empty)$/.test(error.code)) return { transcript: '' }
    // Where it lay for a moment helps nobody.
    throw error instanceof CombscribeError ? fault(error.what, error.next, error.code) : error
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

const fault = (what: string, next: string, code: CombscribeError['code'] = 'unreadable'): CombscribeError =>
  new CombscribeError(code, what, 'the recording', next)

/** RIFF with the form WAVE (or RF64, its like for long recordings), by the first twelve bytes. */
async function isWav(path: string): Promise<boolean> {
  const file = await open(path)
  try {
    const head = Buffer.alloc(12)
    await file.read(head, 0, 12, 0)
    return /^(RIFF|RF64)....WAVE$/s.test(head.toString('latin1'))
  } finally {
    await file.close()
  }
}
