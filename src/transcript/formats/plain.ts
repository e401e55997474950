import type { Format } from '../source.ts'
import { labelAt, speakerNames } from '../speakers.ts'
import type { Segment } from '../transcript.ts'

/** Text with no times: one segment a paragraph, list item or labelled turn. Nothing is known of confidence. */
export const plain: Format = {
  id: 'plain',
  title: 'plain text',
  detect: ({ json }) => !json,
  open: ({ text }, options) => ({ text, segments: speechIn(text, speakerNames(text, options.isTradeWord)) }),
}

/** A blank line, or a line break before a list mark, ends a stretch; any other line break is only a wrapped line. */
export function speechIn(text: string, labels: ReadonlySet<string>): Segment[] {
  const segments: Segment[] = []
  let speaker: string | undefined
  let open: { start: number; end: number } | undefined
  const close = () => {
    if (open) segments.push({ ...open, ...(speaker && { speaker }) })
    open = undefined
  }
  for (const match of text.matchAll(/[^\r\n]+|\r\n|\r|\n/g)) {
    const line = match[0]
    if (/^[\r\n]/.test(line)) {
      if (isBlankAfter(text, match.index + line.length)) close()
      continue
    }
    const label = labelAt(line, labels)
    if (label || /^\s*(?:[-–—*•]\s+|>>+\s*)\S/.test(line)) close()
    if (label) speaker = label.speaker
    const skip = label?.length ?? /^\s*(?:[-–—*•]\s+(?=\S)|>>+\s*)?/.exec(line)![0].length
    const end = match.index + line.trimEnd().length
    const start = match.index + skip
    if (end <= start) continue
    if (open) open.end = end
    else open = { start, end }
  }
  close()
  return segments
}

const blankLine = /[ \t\u00a0]*(?:[\r\n]|$)/y
function isBlankAfter(text: string, at: number): boolean {
  blankLine.lastIndex = at
  return blankLine.test(text)
}
