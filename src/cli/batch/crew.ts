import { fileURLToPath } from 'node:url'
import { Piscina } from 'piscina'
import { CombscribeError } from '../../errors.ts'
import type { Waiting } from '../../logbook/logbook.ts'
import type { Yard } from '../../yard.ts'
import type { NoteFile } from './read-note.ts'
import { type JudgedNote, type ReadNote, tasksFor } from './task.ts'
import type { Answer, Task } from './thread.ts'

/** Who reads and judges: this thread for a few notes, one thread a core for many. */
export interface Crew {
  /** How many notes are worth having in hand at once. */
  readonly atOnce: number
  read(file: NoteFile): Promise<ReadNote>
  judge(note: Waiting): Promise<JudgedNote>
  close(): Promise<void>
}

/** Threads cost a third of a second to start, the time of some ten notes: an evening's notes are read without them. */
const few = 12

export function openCrew(cores: number, yard: Yard | undefined): Crew {
  const here = tasksFor(yard)
  let done = 0
  let pool: Piscina<Task, Answer<unknown>> | undefined
  async function run<T>(task: Task, alone: () => T): Promise<T> {
    if (cores === 1 || ++done <= few) return alone()
    pool ??= new Piscina({
      // The build puts this part of the command one folder below the threads' own file.
      filename: fileURLToPath(new URL('../thread.js', import.meta.url)),
      minThreads: cores,
      maxThreads: cores,
      idleTimeout: Number.POSITIVE_INFINITY,
      workerData: { yard },
      // A note leaves much behind that is gone with the next: little room for it keeps a thread small.
      resourceLimits: { maxYoungGenerationSizeMb: 12 },
    })
    const answer = (await pool.run(task)) as Answer<T>
    if ('fault' in answer) throw new CombscribeError(...answer.fault)
    return answer.result
  }
  return {
    atOnce: cores * 2,
    read: (file) => run({ file }, () => here.read(file)),
    judge: (waiting) => run({ waiting }, () => here.judge(waiting)),
    close: async () => pool?.destroy(),
  }
}
