import { fileURLToPath } from 'node:url'
import { setFlagsFromString } from 'node:v8'
import { Piscina } from 'piscina'
import { CombscribeError } from '../../errors.ts'
import type { Waiting } from '../../logbook/logbook.ts'
import type { Yard } from '../../yard.ts'
import type { NoteFile } from './read-note.ts'
import type { JudgedNote, OldNote, ReadNote, RereadNote, Tasks } from './task.ts'
import type { Answer, Task } from './thread.ts'

/** Who reads and judges: this thread for a few notes, one thread a core for many. */
export interface Crew {
  /** How many notes are worth having in hand at once. */
  readonly atOnce: number
  /** Tells that so many notes are coming, so that threads are there for many. */
  expect(notes: number): Promise<void>
  read(file: NoteFile): Promise<ReadNote>
  reread(note: OldNote): Promise<RereadNote>
  judge(note: Waiting): Promise<JudgedNote>
  close(): Promise<void>
}

/** Threads cost a second of the processor to start, the time of some ten notes: an evening's notes are read without them. */
export const few = 12

export function openCrew(cores: number, yard: Yard | undefined): Crew {
  spare()
  let here: Tasks | undefined
  let pool: Piscina<Task, Answer<unknown>> | undefined
  async function run<T>(task: Task, alone: (tasks: Tasks) => T): Promise<T> {
    if (!pool) {
      // Where threads do the work this one never loads the grammar.
      here ??= (await import('./task.ts')).tasksFor(yard)
      return alone(here)
    }
    const answer = (await pool.run(task)) as Answer<T>
    if ('fault' in answer) throw new CombscribeError(...answer.fault)
    return answer.result
  }
  return {
    atOnce: cores * 2,
    async expect(notes) {
      if (cores === 1 || notes <= few || pool) return
      here = undefined
      pool = new Piscina({
        // The build puts this part of the command one folder below the threads' own file.
        filename: fileURLToPath(new URL('../thread.js', import.meta.url)),
        minThreads: cores,
        maxThreads: cores,
        idleTimeout: Number.POSITIVE_INFINITY,
        workerData: { yard },
        resourceLimits: { maxYoungGenerationSizeMb: 24 },
      })
    },
    read: (file) => run({ file }, (tasks) => tasks.read(file)),
    reread: (old) => run({ old }, (tasks) => tasks.reread(old)),
    judge: (waiting) => run({ waiting }, (tasks) => tasks.judge(waiting)),
    close: async () => pool?.destroy(),
  }
}

/**
 * Settings of V8 for this process and its threads. By itself it collects garbage on four more threads, which only stand in
 * the way where every core has work, and lets a thread's heap grow to four times what is in use before it looks.
 */
function spare(): void {
  setFlagsFromString('--no-parallel-scavenge')
  setFlagsFromString('--heap-growing-percent=25')
}
