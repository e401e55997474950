import { workerData } from 'piscina'
import { CombscribeError } from '../../errors.ts'
import type { Waiting } from '../../logbook/logbook.ts'
import type { NoteFile } from './read-note.ts'
import { type OldNote, tasksFor } from './task.ts'

/** What runs on each thread of the pool: piscina calls the default function with every task. */
const { read, reread, judge } = tasksFor(workerData.yard)

export type Task = { readonly file: NoteFile } | { readonly old: OldNote } | { readonly waiting: Waiting }
/** Between threads an error loses all but its message: one that a person can mend goes as its parts. */
export type Answer<T> = { readonly result: T } | { readonly fault: ConstructorParameters<typeof CombscribeError> }

export default (task: Task): Answer<unknown> => {
  try {
    return { result: 'file' in task ? read(task.file) : 'old' in task ? reread(task.old) : judge(task.waiting) }
  } catch (error) {
    if (!(error instanceof CombscribeError)) throw error
    return { fault: [error.code, error.what, error.where, error.next] }
  }
}
