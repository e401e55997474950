import { SingleBar } from 'cli-progress'

/** How far a long run has come, on a terminal only: in a file or a pipe it would be noise. */
export interface Progress {
  reading(total: number): void
  judging(total: number): void
  /** `words` were read so far, and `doubtful` values await review. */
  step(words: number, doubtful: number): void
  end(): void
}

export const isShown = (): boolean => process.stderr.isTTY === true

export function openProgress(): Progress {
  let bar: SingleBar | undefined
  let began = 0
  const start = (format: string, total: number) => {
    bar?.stop()
    bar = undefined
    if (!isShown() || total === 0) return
    bar = new SingleBar({ format, stream: process.stderr, clearOnComplete: true, fps: 5, etaBuffer: 100 })
    began = Date.now()
    bar.start(total, 0, { speed: 0, doubtful: 0 })
  }
  return {
    reading: (total) =>
      start('{bar} {value}/{total} notes, {speed} words/s, {eta_formatted} left, {doubtful} values to check', total),
    judging: (total) => start('{bar} {value}/{total} notes judged, {eta_formatted} left', total),
    step: (words, doubtful) =>
      bar?.increment(1, { speed: Math.round(words / Math.max(0.001, (Date.now() - began) / 1000)), doubtful }),
    end: () => bar?.stop(),
  }
}
