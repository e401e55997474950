import { closeSync, fdatasyncSync, openSync, writeSync } from 'node:fs'
import { CombscribeError } from '../errors.ts'
import { fileFault } from './files.ts'

/** A file that grows while something is going on: what was added is on the disk at once, whatever happens next. */
export interface KeepFile {
  add(text: string): void
  close(): void
}

/** Begins a new file. One that is there already is never written to. */
export function keepFile(path: string): KeepFile {
  let file: number
  try {
    file = openSync(path, 'wx')
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST')
      throw new CombscribeError(
        'unreadable',
        'there is such a file, and it is not written over',
        path,
        'give another name',
      )
    throw fileFault(error, path)
  }
  return {
    add(text) {
      try {
        writeSync(file, text)
      } catch (error) {
        throw new CombscribeError(
          'unreadable',
          `cannot be written (${(error as NodeJS.ErrnoException).code})`,
          path,
          'make room for it',
        )
      }
      try {
        fdatasyncSync(file)
      } catch {
        // a pipe or a device has no disk to wait for
      }
    },
    close: () => closeSync(file),
  }
}
