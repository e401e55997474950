import { spawn } from 'node:child_process'
import { readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { CombscribeError } from '../errors.ts'
import type { Yard } from '../yard.ts'
import { fileFault } from './files.ts'

/** Endings of recordings that phones and recorders make. */
const AUDIO = /\.(wav|mp3|m4a|aac|flac|ogg|oga|opus|wma|amr|3gp|aiff?|caf|webm|mp4)$/i

export const isAudio = (path: string): boolean => AUDIO.test(path)

/**
 * The transcript of a recording: the one that lies beside it, if it is not older; otherwise what the yard file's
 * recogniser prints, which is then kept beside the recording as `NOTE.wav.transcript`. A failed run leaves nothing behind.
 */
export async function transcriptOf(audio: string, yard: Yard | undefined): Promise<Uint8Array> {
  const path = `${audio}.transcript`
  const made = await stat(audio).catch((error) => {
    throw fileFault(error, audio)
  })
  const kept = await stat(path).catch(() => undefined)
  if (kept && kept.mtimeMs >= made.mtimeMs) return readFile(path)
  if (!yard?.recogniser)
    throw new CombscribeError(
      'no-recogniser',
      'a recording, and no speech recogniser is configured',
      audio,
      'name one in the yard file (--yard), such as "recogniser": ["pocketsphinx_continuous", "-infile", "{audio}"], or give its transcript',
    )
  const bytes = await recognise(yard.recogniser, audio)
  const half = `${path}.${process.pid}.part`
  try {
    await writeFile(half, bytes)
    await rename(half, path)
  } catch (error) {
    await rm(half, { force: true })
    const { code = '' } = error as NodeJS.ErrnoException
    throw new CombscribeError(
      'unreadable',
      `the transcript cannot be kept (${code})`,
      path,
      'make room or allow writing',
    )
  }
  return bytes
}

/**
 * Runs the command, no shell between, and gives what it prints. Throws one sentence with its last words if it fails,
 * `no-speech` if it prints nothing.
 * `gone` ends the run: nobody waits for it any more.
 */
export function recognise(template: readonly string[], audio: string, gone?: AbortSignal): Promise<Uint8Array> {
  const file = audio.startsWith('-') ? `./${audio}` : audio
  const words = template.map((word) => word.replaceAll('{audio}', file))
  const [command = '', ...args] = template.some((word) => word.includes('{audio}')) ? words : [...words, file]
  return new Promise((resolve, reject) => {
    const fail = (what: string, code: 'unreadable' | 'no-speech' = 'unreadable'): void =>
      reject(new CombscribeError(code, what, audio, 'try the recogniser of the yard file by hand'))
    const out: Buffer[] = []
    let complaint = ''
    const run = spawn(command, args, { stdio: ['ignore', 'pipe', 'pipe'], ...(gone && { signal: gone }) })
    run.stdout.on('data', (part: Buffer) => out.push(part))
    run.stderr.on('data', (part: Buffer) => {
      complaint = (complaint + part).slice(-2000)
    })
    run.on('error', ({ message }) => fail(`the recogniser "${command}" does not start (${message})`))
    run.on('close', (code, signal) => {
      const last =
        complaint
          .trim()
          .split('\n')
          .pop()
          ?.replace(/\s+/g, ' ')
          .replace(/[.:]+$/, '') ?? ''
      if (code !== 0) return fail(`the recogniser "${command}" failed with ${signal ?? code}${last && ` (${last})`}`)
      const bytes = Buffer.concat(out)
      if (bytes.toString('utf8').trim() === '') return fail(`the recogniser "${command}" heard nothing`, 'no-speech')
      resolve(bytes)
    })
  })
}
