import { basename } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { watch } from 'chokidar'
import { isNote } from './folder.ts'

/** A folder that is listened to. */
export interface Watched {
  /** Notes that are new or changed and have stopped growing, those of a moment together; ends after `close`. */
  changed(): AsyncGenerator<string[]>
  close(): Promise<void>
}

/** Milliseconds without a change after which a file counts as written. Recordings and copies grow in smaller steps. */
const still = 2000
/** What comes within this many milliseconds is read in one go. */
const together = 300

/** Listens from the moment it returns: what is written while the folder is read for the first time is not missed. */
export async function watchFolder(root: string, fault: (message: string) => void): Promise<Watched> {
  const waiting = new Set<string>()
  let [isOpen, wake] = [true, () => {}]
  const watcher = watch(root, {
    ignored: (path, stats) =>
      (path !== root && basename(path).startsWith('.')) || (stats?.isFile() === true && !isNote(basename(path))),
    ignoreInitial: true,
    followSymlinks: false,
    awaitWriteFinish: { stabilityThreshold: still, pollInterval: 200 },
  })
  const hear = (path: string) => {
    waiting.add(path)
    wake()
  }
  watcher.on('add', hear).on('change', hear)
  watcher.on('error', (error) => fault(error instanceof Error ? error.message : String(error)))
  await new Promise<void>((ready) => watcher.once('ready', ready))
  return {
    async *changed() {
      while (isOpen) {
        if (waiting.size === 0) await new Promise<void>((resolve) => (wake = resolve))
        if (!isOpen) return
        await sleep(together)
        const paths = [...waiting].sort()
        waiting.clear()
        yield paths
      }
    },
    close() {
      isOpen = false
      wake()
      return watcher.close()
    },
  }
}
