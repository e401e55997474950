import { SingleBar } from 'cli-progress'

/** How far a long run has come, on a terminal only: in a file or a pipe it would be noise. */
export function openProgress(total: number): { step(words: number, doubtful: number): void; end(): void } {
  if (process.stderr.isTTY !== true) return { step: () => {}, end: () => {} }
  const bar = new SingleBar({
    format: '{bar} {value}/{total} notes, {speed} words/s, {eta_formatted} left, {doubtful} values to check',
    stream: process.stderr,
    clearOnComplete: true,
  })
  const start = Date.now()
  bar.start(total, 0, { speed: 0, doubtful: 0 })
  return {
    step: (words, doubtful) =>
      bar.increment(1, { speed: Math.round(words / Math.max(0.001, (Date.now() - start) / 1000)), doubtful }),
    end: () => bar.stop(),
  }
}
