import pico from 'picocolors'
import stringWidth from 'string-width'
import wrapAnsi from 'wrap-ansi'
import type { Flag } from '../record/schema.ts'
import { clean } from './clean.ts'

/** What the reports need to know of the place they are printed to. */
export interface Style {
  readonly colour: boolean
  /** Columns. */
  readonly width: number
}

/**
 * Few colours, all from the bright half of the palette: they are read outdoors at dusk on a dark screen, where the
 * terminal's blue and its dim grey vanish. Nothing is told by colour alone.
 */
export function paints(style: Style) {
  const c = pico.createColors(style.colour)
  return {
    title: (text: string) => c.bold(text),
    heading: (text: string) => c.bold(c.cyanBright(text)),
    quote: (text: string) => c.cyanBright(text),
    urgent: (text: string) => c.bold(c.redBright(text)),
    flag: (flag: Flag, text: string) =>
      flag === 'sure' ? text : flag === 'check' ? c.yellowBright(text) : c.magentaBright(text),
  }
}

export const quoted = (text: string): string => `“${clean(text)}”`

/** Most text is of one column a letter; measuring and wrapping it by the Unicode tables would be half of the print time. */
const isPlain = (text: string) => /^[\x20-\x7e“”·°]*$/.test(text)
const widthOf = (text: string) => (isPlain(text) ? text.length : stringWidth(text))

/** `text` in lines of at most `width` columns; words longer than a line are cut. */
export function wrap(text: string, width: number): string[] {
  if (text.length <= width && isPlain(text)) return [text.trimEnd()]
  return wrapAnsi(text, Math.max(8, width), { hard: true }).split('\n')
}

/** `text` wrapped behind `first` and, from the second line on, behind as many spaces. */
export function hang(first: string, text: string, width: number): string {
  const indent = widthOf(first)
  return wrap(text, width - indent)
    .map((line, i) => (i === 0 ? first : ' '.repeat(indent)) + line)
    .join('\n')
}

/** Text as the beginning of a line. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** `text` filled up with spaces to `width` columns. */
export const pad = (text: string, width: number): string => text + ' '.repeat(Math.max(0, width - widthOf(text)))

export interface Cell {
  readonly text: string
  readonly width: number
  /** Columns to leave free at the left, and a step more from the second line on. */
  readonly indent?: number
  readonly paint?: (text: string) => string
}

/** Cells side by side, each wrapped to its own column. */
export function row(cells: readonly Cell[]): string {
  const columns = cells.map((cell) => {
    const indent = cell.indent ?? 0
    const step = indent > 0 && widthOf(cell.text) > cell.width - indent ? 2 : 0
    return wrap(cell.text, cell.width - indent - step).map((line, i) => ' '.repeat(indent + (i > 0 ? step : 0)) + line)
  })
  const out: string[] = []
  for (let i = 0; i < Math.max(...columns.map((lines) => lines.length)); i++) {
    const parts = cells.map(({ width, paint }, column) => {
      const line = columns[column]?.[i] ?? ''
      const gap = ' '.repeat(Math.max(0, width - widthOf(line)))
      return (paint && line ? paint(line) : line) + gap
    })
    out.push(parts.join(' ').trimEnd())
  }
  return out.join('\n')
}
