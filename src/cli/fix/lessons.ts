import { randomBytes } from 'node:crypto'
import { readFile, realpath, rename, rm, writeFile } from 'node:fs/promises'
import { type CorrectedNote, type Lesson, type Proposal, proposalsFrom } from '../../corrections/learn.ts'
import { lessonsIn, taught } from '../../corrections/teach.ts'
import { CombscribeError } from '../../errors.ts'
import { isTradeWord, vocabularyOf } from '../../hints/vocabulary.ts'
import { readNote } from '../../read-note.ts'
import { clean } from '../../report/clean.ts'
import { openTranscript } from '../../transcript/open.ts'
import type { Transcript } from '../../transcript/transcript.ts'
import { parseYard, readerHints, type Yard } from '../../yard.ts'
import { fileFault } from '../files.ts'
import type { Terminal } from '../terminal.ts'
import { askKey } from './ask.ts'
import type { Desk } from './desk.ts'

/** A note to learn from: what was put right in it, and its transcript to read it again. */
export interface LessonNote {
  readonly desk: Desk
  readonly transcript: Transcript
  readonly date: string | undefined
}

/** What keepers speak of most, and have words of their own for. */
const COMMON = [
  ...['frames', 'brood', 'bees', 'honey', 'queen', 'eggs', 'larvae', 'super', 'brood box', 'stores', 'seams'],
  ...['queen cells', 'queen cups', 'drones', 'pollen', 'nectar', 'foundation', 'excluder', 'feeder', 'syrup'],
  ...['fondant', 'varroa', 'mites', 'hive', 'nuc', 'frame', 'capped', 'beetles', 'wasps', 'calm', 'beetle trap'],
]

/** What could be learned from these notes, with the yard file as it is. */
export function lessonsFrom(notes: readonly LessonNote[], yard: Yard): Proposal[] {
  const hints = (lessons: readonly Lesson[]) => readerHints(withLessons(yard, lessons))
  const corrected: CorrectedNote[] = notes.map(({ desk, transcript, date }) => ({
    text: desk.text,
    corrections: desk.corrections,
    corrected: desk.record(),
    read: (lessons) =>
      readNote(transcript, { name: desk.name, ...(date === undefined ? {} : { date }), yard: hints(lessons) }),
  }))
  const { things, words } = vocabularyOf(undefined)
  return proposalsFrom(corrected, {
    tryOn: (quote, lessons) => readNote(openTranscript(quote, 'words'), { name: 'words', yard: hints(lessons) }),
    terms: [...new Set([...COMMON, ...things, ...words])],
    isTradeWord,
    known: lessonsIn(yard),
  })
}

/** The yard as it would be with these lessons. */
function withLessons(yard: Yard, lessons: readonly Lesson[]): Yard {
  const words = { ...yard.words }
  const hives = (yard.hives ?? []).map((hive) => ({ ...hive }))
  for (const lesson of lessons) {
    if (lesson.is === 'word') words[lesson.said] = lesson.means
    else {
      const own = hives.find(({ label }) => label === lesson.label)
      if (own) own.said = [...(own.said ?? []), lesson.said]
      else hives.push({ label: lesson.label, said: [lesson.said] })
    }
  }
  return { ...yard, words, hives }
}

/** Offers what could be learned, one key each, and writes what is accepted into the yard file. */
export async function teach(
  proposals: readonly Proposal[],
  yardPath: string | undefined,
  terminal: Terminal,
): Promise<number> {
  if (proposals.length === 0) return 0
  if (yardPath === undefined) {
    const said = proposals.map(({ lesson }) => lessonWords(lesson)).join('; ')
    terminal.out(`Could be learned: ${said}. Name a yard file (--yard) to keep it.\n`)
    return 0
  }
  let kept = 0
  for (const { lesson, before, after } of proposals.slice(0, 5)) {
    const percent = (share: number): string => `${(100 * share).toFixed(1)} %`
    const gain = `right on your corrected notes: ${percent(before)}, with it ${percent(after)}`
    const screen = `\nLearn it? ${lessonWords(lesson)}\n  (${gain})\n\nEnter yes · n no · q stop`
    const key = await askKey(screen, ['enter', 'n', 'q'])
    if (key === 'q' || key === 'stop') break
    if (key !== 'enter') continue
    await teachFile(yardPath, lesson)
    kept++
    terminal.out(`  ${yardPath} has it now.\n`)
  }
  return kept
}

/** `"plates" means "frames"`. */
export const lessonWords = (lesson: Lesson): string =>
  lesson.is === 'word'
    ? `"${clean(lesson.said)}" means "${clean(lesson.means)}"`
    : `"${clean(lesson.said)}" is hive ${clean(lesson.label)}`

/** Puts one lesson into a yard file: a whole new file beside it, checked, then in its place. */
async function teachFile(path: string, lesson: Lesson): Promise<void> {
  const half = `${path}.${randomBytes(4).toString('hex')}.part`
  try {
    const target = await realpath(path)
    const text = taught(await readFile(target, 'utf8'), lesson)
    parseYard(text, path)
    await writeFile(half, text)
    await rename(half, target)
  } catch (error) {
    await rm(half, { force: true })
    throw error instanceof CombscribeError ? error : fileFault(error, path)
  }
}
