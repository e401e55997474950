import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { checked, label, maybe, objectsOf, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** Rev.ai, whole (`monologues`) or streamed (`elements`). Its spaces are elements of their own. Confidence: as it is. */
export const revai: Format = {
  id: 'revai',
  title: 'Rev.ai JSON',
  detect: (source) =>
    objectsOf(source).some(
      (value) =>
        Array.isArray(value.monologues) ||
        (Array.isArray(value.elements) && /^(?:partial|final)$/.test(String(value.type))),
    ),
  open(source) {
    const documents = objectsOf(source).map((value) => checked(schema, value, source, revai.title))
    const pieces = documents.flatMap(({ monologues, elements, type }) => [
      ...(monologues ?? []).flatMap(({ speaker, elements }) =>
        stretches(elements).map((part) => ({ ...part, ...known({ speaker }) })),
      ),
      ...(elements
        ? [{ ...pieceOf(elements, type === 'partial' ? ' ' : ''), ...(type === 'partial' && { partial: true }) }]
        : []),
    ])
    return layOut(keepFinals(pieces), 'vendor')
  },
}

const element = z.object({
  type: z.string(),
  value: z._default(z.string(), ''),
  ts: maybe(seconds),
  end_ts: maybe(seconds),
  confidence: maybe(unit),
})
type Element = z.output<typeof element>
const schema = z.object({
  type: maybe(z.string()),
  monologues: maybe(z.array(z.object({ speaker: maybe(label), elements: z.array(element) }))),
  elements: maybe(z.array(element)),
})

/** A monologue can last for an hour; a pause of a second cuts it. */
function stretches(elements: readonly Element[]): Piece[] {
  const groups: Element[][] = [[]]
  let until: number | undefined
  for (const element of elements) {
    if (element.ts != null && until !== undefined && element.ts - until >= 1) groups.push([])
    groups.at(-1)!.push(element)
    until = element.end_ts ?? until
  }
  return groups.map((group) => pieceOf(group, ''))
}

function pieceOf(elements: readonly Element[], between: string): Piece {
  const spoken = elements.filter(({ type, value }) => type !== 'unknown' && !/^<.*>$/.test(value))
  const words = spoken.filter(({ type }) => type === 'text')
  return {
    text: spoken.map(({ value }) => value).join(between),
    ...known({ at: words[0]?.ts, until: words.at(-1)?.end_ts }),
    words: words.map(({ value, ts, end_ts, confidence }) => ({
      text: value,
      ...known({ at: ts, until: end_ts, confidence }),
    })),
  }
}
