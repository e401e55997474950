/** A stretch of `Transcript.text`: character offsets, `end` exclusive. Every product of every stage points back with these. */
export interface Span {
  readonly start: number
  readonly end: number
}

/** The exact words a span covers. */
export const slice = (text: string, span: Span): string => text.slice(span.start, span.end)

/** The smallest span that covers all of `spans` (which must not be empty). */
export function cover(spans: readonly Span[]): Span {
  let start = Number.POSITIVE_INFINITY
  let end = 0
  for (const span of spans) {
    if (span.start < start) start = span.start
    if (span.end > end) end = span.end
  }
  return { start, end }
}

/** One-based line and column of an offset, for messages that a person reads. */
export function lineOf(text: string, offset: number): { line: number; column: number } {
  let line = 1
  let last = -1
  for (let i = text.indexOf('\n'); i >= 0 && i < offset; i = text.indexOf('\n', i + 1)) {
    line++
    last = i
  }
  return { line, column: offset - last }
}

/** How many items of a list begin it that `isBefore` holds of (bisection); it must hold of none behind them. */
export function leading<T>(list: readonly T[], isBefore: (item: T) => boolean): number {
  let [low, high] = [0, list.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (isBefore(list[middle]!)) low = middle + 1
    else high = middle
  }
  return low
}
