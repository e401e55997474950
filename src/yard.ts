import {
  findNodeAtLocation,
  getNodeValue,
  type Node as JsonNode,
  type ParseError,
  parseTree,
  printParseErrorCode,
} from 'jsonc-parser'
import { CombscribeError } from './errors.ts'
import type { YardHints } from './read.ts'
import { frameTypes } from './rules/frames.ts'
import { ruleSettingsSchema } from './rules/settings.ts'
import { lineOf } from './span.ts'
import * as z from './zod.ts'

/**
 * The yard file: what a keeper would tell a new helper once. Everything is optional; the reader and the rules fall back
 * to guessing from context and to defaults. The file is JSON in which comments and trailing commas are welcome.
 */

const words = z.string().check(z.trim(), z.minLength(1))

const equipment = {
  /** Comb size in the brood boxes and in the supers. */
  broodFrame: z.optional(z.enum(frameTypes)),
  superFrame: z.optional(z.enum(frameTypes)),
  /** Frames a box holds. */
  framesPerBox: z.optional(z.int().check(z.minimum(3), z.maximum(20))),
}

const apiarySchema = z.strictObject({
  name: words,
  /** Other ways it is said, mishearings included. */
  said: z.optional(z.array(words)),
})

const hiveSchema = z.strictObject({
  /** The label in the record: `2`, `blue`, `nuc 3`, `olive`. Lower case, numbers as digits. */
  label: words.check(z.refine((label) => label === label.toLowerCase(), 'write the label in lower case')),
  /** The name as spoken, where it differs from the label. */
  name: z.optional(words),
  said: z.optional(z.array(words)),
  apiary: z.optional(words),
  ...equipment,
})

const regionSchema = z.strictObject({
  /** Which trade words are likely, and how dates in figures are meant. */
  spelling: z.optional(z.enum(['british', 'american', 'australian'])),
  /** What a bare number of degrees or of weight means. */
  units: z.optional(z.enum(['metric', 'imperial', 'us'])),
  hemisphere: z.optional(z.enum(['north', 'south'])),
  /** How hard the winter is: decides the stores a colony needs. */
  climate: z.optional(z.enum(['mild', 'temperate', 'cold', 'subtropical', 'tropical'])),
  /** ISO 3166 code, with a subdivision where law differs (`AU-NSW`): whose rules a finding defers to. */
  country: z.optional(
    z.string().check(z.regex(/^[A-Z]{2}(-[A-Z0-9]{1,3})?$/, 'write an ISO code such as GB or AU-NSW')),
  ),
})

export const yardSchema = z.strictObject({
  $schema: z.optional(z.string()),
  apiaries: z.optional(z.array(apiarySchema)),
  hives: z.optional(z.array(hiveSchema)),
  region: z.optional(regionSchema),
  equipment: z.optional(z.strictObject(equipment)),
  /** Own words and what they stand for: `"the girls' fridge": "top super"`. */
  words: z.optional(z.record(words, words)),
  /** How to start the speech-to-text program: the command and its arguments, `{audio}` for the recording. */
  recogniser: z.optional(z.array(words).check(z.minLength(1))),
  /** Limits, thresholds and seasons that the rules shall use. */
  rules: z.optional(ruleSettingsSchema),
})
export type Yard = z.infer<typeof yardSchema>

/** Reads a yard file's text. Throws one sentence that names `where`, the line and the entry. */
export function parseYard(text: string, where: string): Yard {
  const errors: ParseError[] = []
  const clean = text.replace(/^\uFEFF/, '')
  const tree = parseTree(clean, errors, { allowTrailingComma: true })
  const first = errors[0]
  if (first || !tree) {
    const offset = first?.offset ?? 0
    const what = first ? spelledOut(printParseErrorCode(first.error)) : 'the file is empty'
    throw new CombscribeError('bad-yard', `not readable as JSON (${what})`, at(clean, offset, where), 'mend that line')
  }
  const duplicate = duplicateKey(tree)
  if (duplicate) {
    const place = at(clean, duplicate.offset, where)
    throw new CombscribeError('bad-yard', `"${duplicate.value}" is written twice`, place, 'keep one of the two')
  }
  const result = yardSchema.safeParse(getNodeValue(tree))
  if (result.success) {
    const clash = sharedName(result.data)
    if (!clash) return result.data
    throw new CombscribeError(
      'bad-yard',
      `"${clash.name}" stands for both hive ${clash.first} and hive ${clash.second}`,
      at(clean, findNodeAtLocation(tree, ['hives', clash.index])?.offset ?? 0, where),
      'give each hive its own names',
    )
  }
  const issue = result.error.issues[0]!
  const unknown = issue.code === 'unrecognized_keys' ? issue.keys.slice(0, 1) : []
  const place = at(clean, nearest(tree, [...issue.path, ...unknown].map(segment)).offset, where)
  const entry = issue.path.length > 0 ? `${issue.path.map(String).join('.')}: ` : ''
  throw new CombscribeError('bad-yard', `${entry}${lowerFirst(issue.message)}`, place, 'change it or leave it out')
}

/** What the reader takes from a yard file. Bare numbers are left out: "two" is a hive only where a note says so. */
export function readerHints(yard: Yard): YardHints {
  const isNumber = (name: string) => /^\d+$/.test(name)
  const hives = (yard.hives ?? []).flatMap(({ label, name, said = [] }) => {
    const names = [name, ...said].filter((one) => one !== undefined && !isNumber(one))
    if (!isNumber(label)) return [{ name: label, said: names.filter((one) => one !== undefined) }]
    // "Hive two" is read as it is; what else the hive is called, or heard as, is not.
    const other = said.filter((one) => !isNumber(one))
    return other.length > 0 ? [{ name: label, said: other }] : []
  })
  const units = yard.region?.units
  return {
    hives,
    ...(yard.apiaries && { apiaries: yard.apiaries }),
    ...(yard.words && { words: yard.words }),
    ...(units && units !== 'imperial' && { region: { temperature: units === 'us' ? ('F' as const) : ('C' as const) } }),
  }
}

const at = (text: string, offset: number, where: string) => `${where}:${lineOf(text, offset).line}`
const segment = (part: PropertyKey) => (typeof part === 'number' ? part : String(part))
const lowerFirst = (sentence: string) => sentence.charAt(0).toLowerCase() + sentence.slice(1)
/** `CommaExpected` as a person would say it. */
const spelledOut = (code: string) => code.replace(/(?<=.)([A-Z])/g, ' $1').toLowerCase()

/** The node at `path`, or the closest one above it: a missing key has no place of its own. */
function nearest(tree: JsonNode, path: (string | number)[]): JsonNode {
  for (let length = path.length; length > 0; length--) {
    const node = findNodeAtLocation(tree, path.slice(0, length))
    if (node) return node
  }
  return tree
}

/** The key node of an entry that an object holds twice: JSON would silently keep the last. */
function duplicateKey(node: JsonNode): JsonNode | undefined {
  const seen = new Set<string>()
  for (const child of node.children ?? []) {
    if (child.type === 'property') {
      const key = child.children?.[0]
      if (key && seen.has(key.value)) return key
      if (key) seen.add(key.value)
    }
    const inside = duplicateKey(child)
    if (inside) return inside
  }
  return undefined
}

/** Two hives that answer to one name: the reader could not tell them apart. */
function sharedName(yard: Yard): { name: string; first: string; second: string; index: number } | undefined {
  const owner = new Map<string, string>()
  for (const [index, hive] of (yard.hives ?? []).entries()) {
    for (const name of new Set([hive.label, hive.name, ...(hive.said ?? [])].flatMap((n) => n?.toLowerCase() ?? []))) {
      const first = owner.get(name)
      if (first !== undefined) return { name, first, second: hive.label, index }
      owner.set(name, hive.label)
    }
  }
  return undefined
}
