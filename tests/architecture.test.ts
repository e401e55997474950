import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'

/**
 * One way for the data: transcript → language → reading → record → rules → report. A stage that reached forward, or past
 * its neighbours into their workings, could no longer be understood, tested or swapped by itself.
 */
const src = fileURLToPath(new URL('../src', import.meta.url))

interface Import {
  readonly file: string
  /** A file of src/, `grammar/en/…`, `node:…` or a package. */
  readonly to: string
  /** Only types: nothing of it is there when the program runs. */
  readonly typesOnly: boolean
}

const files = readdirSync(src, { recursive: true, encoding: 'utf8' })
  .filter((file) => /\.tsx?$/.test(file))
  .map((file) => file.replaceAll('\\', '/'))
  .sort()

const STATEMENT =
  /^(?:import|export)\s+(type\s)?([^'"]*?)\s*from\s+'([^']+)'|^import\s+'([^']+)'|\bimport\('([^']+)'\)/gm

const imports: Import[] = files.flatMap((file) => {
  const text = readFileSync(join(src, file), 'utf8')
  return [...text.matchAll(STATEMENT)].map(([, type, names = '', from, bare, lazy]) => {
    const target = from ?? bare ?? lazy ?? ''
    const named = /^\{([^}]*)\}$/s
      .exec(names.trim())?.[1]
      ?.split(',')
      .filter((name) => name.trim() !== '')
    return {
      file,
      to: target.startsWith('.') ? relative(src, join(src, dirname(file), target)).replaceAll('\\', '/') : target,
      typesOnly: type !== undefined || (named?.every((name) => /^\s*type\s/.test(name)) ?? false),
    }
  })
})

const stageOf = (file: string): string => (file.includes('/') ? file.slice(0, file.indexOf('/')) : file)
const say = ({ file, to }: Import): string => `src/${file} imports ${to}`

/** For every folder, the files outside it that it may use (but for `zod.ts`, a library). Types of earlier products are named one by one. */
const allowed: Record<string, RegExp> = {
  // Patterns match words; what a word is, is language's to say.
  grammar: /^(errors\.ts|\.\.\/grammar\/en\/\w+\.json|language\/word\.ts)$/,
  transcript: /^(span|errors)\.ts$/,
  language: /^(span\.ts|errors\.ts|(packed-numbers|sequence-net)\.ts|grammar\/\w+\.ts|transcript\/transcript\.ts)$/,
  // Amounts, dates and classes of words are read where a pattern asks for them.
  reading: /^(span\.ts|errors\.ts|grammar\/\w+\.ts|language\/(word|amounts|classes|combs-meant|dates)\.ts)$/,
  // Which words call a hive is weighed over the whole note; what a call does to the record is the record's matter.
  hives:
    /^(span\.ts|errors\.ts|(packed-numbers|slot-net)\.ts|grammar\/\w+\.ts|language\/(word|amounts|named)\.ts|reading\/\w+\.ts)$/,
  // What a clause says by its words alone, wherever the talk is.
  clauses: /^((packed-numbers|sequence-net|slot-net)\.ts|language\/(word|amounts)\.ts)$/,
  // What was learned and comes to the page after the first load.
  fitted:
    /^(language\/((amounts|border-net|borders|name-net|named)\.ts|(border|name)-net\.json)|clauses\/(reader\.ts|amounts\.json|tagger\.json)|hives\/((call-net|common-words|cue-net|fine-weights)\.json|(call-net|common-words|context|cue-net|learned|score)\.ts))$/,
  record:
    /^(span\.ts|errors\.ts|grammar\/\w+\.ts|language\/(word|amounts|dates)\.ts|reading\/\w+\.ts|hives\/\w+\.ts|clauses\/\w+\.ts|transcript\/transcript\.ts)$/,
  // Whatever writes such a record may be judged: the rules know its schema and nothing of how it came about.
  rules: /^(span|errors|record\/schema)\.ts$/,
  // What recognisers should expect is drawn from the grammar and the yard file alone.
  hints: /^(errors\.ts|yard\.ts|grammar\/\w+\.ts)$/,
  // What a person put right is replayed on a record that is there: who read it and who shows it plays no part.
  corrections: /^(span|errors|record\/(schema|fields)|rules\/[\w-]+)\.ts$/,
  // The logbook keeps records and findings; it neither reads nor judges.
  logbook: /^(errors|record\/schema|rules\/finding)\.ts$/,
  // A visit as it is spoken: reads, judges and says it, an utterance at a time.
  live: /^(errors|read|yard|record\/(schema|fields)|rules\/[\w-]+|report\/[\w-]+|corrections\/[\w-]+|transcript\/(transcript|formats\/heard))\.ts$/,
  report: /^(span|errors|record\/(schema|fields|confidence)|rules\/[\w-]+|transcript\/transcript)\.ts$/,
}

test('there is something to look at', () => {
  expect(files.length).toBeGreaterThan(100)
  expect(imports.length).toBeGreaterThan(300)
  expect(imports.some(({ to }) => to === 'record/schema.ts')).toBe(true)
})

describe('one way only', () => {
  test.each(Object.entries(allowed))('%s', (stage, may) => {
    const own = imports.filter(({ file, to }) => stageOf(file) === stage && stageOf(to) !== stage && to !== 'zod.ts')
    const outside = own.filter(({ to }) => /\.(tsx?|json)$/.test(to) && !may.test(to))
    const why = `src/${stage} may use its own folder and ${may.source}: hand over what it needs as an argument, or move the code to the stage that owns it`
    expect(outside.map(say), why).toEqual([])
  })

  test('every folder up to the report has its rule here', () => {
    const ways = /^(cli|logbook|web|web-server)$/
    const folders = new Set(files.filter((file) => file.includes('/')).map(stageOf))
    const unknown = [...folders].filter((folder) => !(folder in allowed) && !ways.test(folder))
    expect(unknown, 'a new folder needs its place in the order of stages').toEqual([])
  })

  test('the two ways in hold no trade knowledge', () => {
    const inner = imports.filter(
      ({ file, to }) => /^(cli|web)\//.test(file) && /^(grammar|language|reading)\//.test(to),
    )
    expect(inner.map(say), 'the ways in speak with read.ts, rules/, report/ and logbook/ alone').toEqual([])
  })
})

test('a command opens logbooks with their corrections', () => {
  const past = imports.filter(({ file, to }) => to === 'logbook/open.ts' && /^(cli|web)/.test(file))
  expect(
    past.map(({ file }) => file),
    'open logbooks with cli/logbooks.ts: it replays the corrections',
  ).toEqual(['cli/logbooks.ts'])
})

test('nothing of Node before the logbook', () => {
  const node = imports.filter(({ file, to }) => to.startsWith('node:') && !/^(cli|logbook|web-server)\//.test(file))
  expect(
    node.map(say),
    'this code runs in a browser too: read files in cli/ or logbook/ and hand over the text',
  ).toEqual([])
  const globals = files.filter(
    (file) =>
      !/^(cli|logbook|web-server|web)\//.test(file) &&
      /\b(process\.(env|argv|exit|cwd|std)|Buffer\.|__dirname|require\()/.test(readFileSync(join(src, file), 'utf8')),
  )
  expect(globals, 'no browser has these').toEqual([])
})

test('zod is imported in the small form, and as a whole so that it can be shaken out', () => {
  const text = (file: string): string => readFileSync(join(src, file), 'utf8')
  const direct = files.filter((file) => /from 'zod/.test(text(file)))
  expect(direct, 'import * as z from zod.ts').toEqual(['zod.ts'])
  const other = files.filter(
    (file) => /\/zod\.ts'/.test(text(file)) && !/^import (type )?\* as z from '[./]+\/zod\.ts'$/m.test(text(file)),
  )
  expect(other, "write import * as z from '…/zod.ts': other forms put 90 kB into the page").toEqual([])
})

test('imports of the own code name the file with its ending', () => {
  const loose = imports.filter(
    ({ to }) =>
      !/\.(tsx?|json)$/.test(to) &&
      (to.startsWith('.') || /^(transcript|language|reading|record|rules|report|grammar)\b/.test(to)),
  )
  expect(loose.map(say), 'write ./name.ts: nothing is guessed').toEqual([])
})

/** Files that reach themselves again by way of imports, each circle once. */
function circles(list: readonly Import[]): string[] {
  const next = new Map<string, string[]>()
  for (const { file, to } of list) next.set(file, [...(next.get(file) ?? []), to])
  const found = new Set<string>()
  const done = new Set<string>()
  const walk = (file: string, path: readonly string[]): void => {
    const at = path.indexOf(file)
    if (at >= 0) {
      const circle = path.slice(at)
      const first = circle.indexOf([...circle].sort()[0]!)
      found.add([...circle.slice(first), ...circle.slice(0, first)].join(' → '))
      return
    }
    if (done.has(file)) return
    for (const to of next.get(file) ?? []) walk(to, [...path, file])
    done.add(file)
  }
  for (const file of next.keys()) walk(file, [])
  return [...found]
}

test('no circles', () => {
  const running = imports.filter(({ typesOnly }) => !typesOnly)
  expect(circles(running), 'files that need each other are one file, or a third that both use is missing').toEqual([])
})
test('the search for circles finds one', () => {
  const edge = (file: string, to: string): Import => ({ file, to, typesOnly: false })
  expect(circles([edge('a', 'b'), edge('b', 'c'), edge('c', 'a'), edge('d', 'a')])).toEqual(['a → b → c'])
})
