import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import tagger from '../../src/clauses/tagger.json' with { type: 'json' }
import { createTagger, unpackTagger } from '../../src/clauses/tagger.ts'
import borderNet from '../../src/language/border-net.json' with { type: 'json' }
import { borderReader } from '../../src/language/border-net.ts'
import nameNet from '../../src/language/name-net.json' with { type: 'json' }
import { nameReader } from '../../src/language/name-net.ts'

/**
 * Nets with a memory work out what PyTorch (1.13, its own GRU and convolutions) works out with the same numbers; `npm run tagger`,
 * `npm run borders` and `npm run names` write the fixtures with the nets.
 */
const told = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../fixtures/nets/${name}.json`, import.meta.url), 'utf8'))

test.each([
  ['that a sentence or a clause begins', 'border-net', borderReader(borderNet), ['sentence', 'clause']],
  ['that words name a hive', 'name-net', nameReader(nameNet), ['begins', 'goesOn']],
])('the odds %s are those of PyTorch', (_, name, net, asked) => {
  const texts: { words: string[]; odds: number[][] }[] = told(name)
  expect(texts.flatMap(({ words }) => words).length).toBeGreaterThan(50)
  for (const { words, odds } of texts)
    expect(Object.entries(net.odds(words)).map(([what, list]) => [what, [...(list as Float64Array)]])).toEqual(
      asked.map((what, k) => [what, odds[k]!.map((x) => expect.closeTo(x, 2))]),
    )
  expect(Math.max(...texts.flatMap(({ odds }) => odds[0]!))).toBeGreaterThan(1)
})

test('the odds of talk, utterance after utterance, are those of PyTorch', () => {
  const talk: { said: string[]; borders: number[]; odds: Record<string, number[]> }[] = told('tagger')
  const { facts, tag } = createTagger(unpackTagger(tagger))
  let memory: Float64Array | null = null
  let compared = 0
  for (const { said, borders, odds } of talk) {
    const tagged = tag(said, borders, memory)
    memory = tagged.memory
    for (const [fact, list] of Object.entries(odds))
      for (const [i, x] of list.entries()) {
        expect(tagged.odds[i * facts.length + facts.indexOf(fact)]).toBeCloseTo(x, 2)
        compared++
      }
  }
  expect(compared).toBeGreaterThan(150)
})
