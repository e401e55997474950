import { spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { isAudio } from '../recogniser.ts'

const ENDINGS = ['wav', 'mp3', 'm4a', 'ogg', 'opus', 'flac', 'aac', 'webm', 'mp4', 'aiff']

/** The recording of a note: the note itself, or the file of the same name with an ending of sound beside it. */
export function recordingOf(note: string): string | undefined {
  if (isAudio(note)) return note
  const base = note.replace(/\.[^./\\]+$/, '')
  return [note, base].flatMap((name) => ENDINGS.map((ending) => `${name}.${ending}`)).find((path) => existsSync(path))
}

/** Programs that can play a stretch of a file, from second `from`, for `seconds`. */
const PLAYERS: [program: string, args: (file: string, from: number, seconds: number) => string[]][] = [
  ['ffplay', (file, from, s) => ['-nodisp', '-autoexit', '-loglevel', 'quiet', '-ss', `${from}`, '-t', `${s}`, file]],
  ['mpv', (file, from, s) => ['--no-video', '--really-quiet', `--start=${from}`, `--length=${s}`, '--', file]],
  ['play', (file, from, s) => ['-q', file, 'trim', `${from}`, `${s}`]],
]

/** Plays some seconds around a moment of the recording; undefined where no player is installed. */
export function playerFor(recording: string | undefined): ((at: number) => Promise<boolean>) | undefined {
  if (recording === undefined) return undefined
  const folders = (process.env.PATH ?? '').split(delimiter)
  const found = PLAYERS.find(([program]) => folders.some((folder) => existsSync(join(folder, program))))
  if (!found) return undefined
  const [program, args] = found
  const file = recording.startsWith('-') ? `./${recording}` : recording
  return (at) =>
    new Promise((resolve) => {
      spawn(program, args(file, Math.max(0, Math.round((at - 1) * 10) / 10), 4), { stdio: 'ignore' })
        .on('error', () => resolve(false))
        .on('exit', (code) => resolve(code === 0))
    })
}
