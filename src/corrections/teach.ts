import { findNodeAtLocation, getNodeValue, type JSONPath, type Node, parseTree } from 'jsonc-parser'
import type { Lesson } from './learn.ts'

/**
 * The yard file's text with one more readable line. Comments, order, spacing and everything else stay as they are, which
 * is why the line is put in by hand and not by a formatter. An empty text becomes a new yard file. The result is for
 * `parseYard` to check: it refuses a name that two hives would answer to.
 */
export function taught(text: string, lesson: Lesson): string {
  const whole = text.trim() === '' ? '{\n}\n' : text
  const q = (word: string): string => JSON.stringify(word)
  if (lesson.is === 'word') {
    const entry = `${q(lesson.said)}: ${q(lesson.means)}`
    const words = at(whole, ['words'])
    if (findChild(words, lesson.said)) return whole
    return words ? inside(whole, words, entry) : inside(whole, at(whole, [])!, `"words": {\n    ${entry}\n  }`)
  }
  const hives = at(whole, ['hives'])
  const fresh = `{ "label": ${q(lesson.label)}, "said": [${q(lesson.said)}] }`
  if (!hives) return inside(whole, at(whole, [])!, `"hives": [\n    ${fresh}\n  ]`)
  const own = hives.children?.find((hive) => findChild(hive, 'label')?.value === lesson.label)
  if (!own) return inside(whole, hives, fresh)
  const said = findChild(own, 'said')
  if (!said) return inside(whole, own, `"said": [${q(lesson.said)}]`)
  return (getNodeValue(said) as string[]).includes(lesson.said) ? whole : inside(whole, said, q(lesson.said))
}

/** The lessons that a yard file holds, as it was parsed. */
export function lessonsIn(yard: {
  words?: Readonly<Record<string, string>> | undefined
  hives?: readonly { label: string; said?: readonly string[] | undefined }[] | undefined
}): Lesson[] {
  const words = Object.entries(yard.words ?? {}).map(([said, means]): Lesson => ({ is: 'word', said, means }))
  const names = (yard.hives ?? []).flatMap(({ label, said = [] }) =>
    said.map((one): Lesson => ({ is: 'hive', said: one, label })),
  )
  return [...words, ...names]
}

const at = (text: string, path: JSONPath): Node | undefined => {
  const tree = parseTree(text, [], { allowTrailingComma: true })
  return tree && findNodeAtLocation(tree, path)
}
const findChild = (node: Node | undefined, key: string): Node | undefined =>
  node?.children?.find((child) => child.children?.[0]?.value === key)?.children?.[1]

/** `entry` as the last of an object or list: on a line of its own where the others are, behind the last one's comment. */
function inside(text: string, node: Node, entry: string): string {
  const eol = text.includes('\r\n') ? '\r\n' : '\n'
  const fresh = entry.replaceAll('\n', eol)
  const last = node.children?.at(-1)
  const own = text.slice(node.offset, node.offset + node.length)
  if (!last) {
    const isWide = own.includes('\n')
    const head = text.slice(0, node.offset + 1)
    return head + (isWide ? `${eol}  ${fresh}` : ` ${fresh} `) + text.slice(node.offset + 1)
  }
  const end = last.offset + last.length
  const [, comma = '', comment = ''] = /^(\s*,)?([ \t]*\/\/[^\r\n]*)?/.exec(text.slice(end)) ?? []
  const lineStart = text.lastIndexOf('\n', last.offset) + 1
  const indent = /^[ \t]*/.exec(text.slice(lineStart, last.offset))![0]
  const isOwnLine = text.slice(lineStart, last.offset).trim() === ''
  const gap = isOwnLine || comment !== '' ? `${eol}${indent}` : ' '
  const behind = end + comma.length + comment.length
  return `${text.slice(0, end)}${comma || ','}${comment}${gap}${fresh}${comma && ','}${text.slice(behind)}`
}
