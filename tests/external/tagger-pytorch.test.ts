import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import tagger from '../../src/clauses/tagger.json' with { type: 'json' }
import { createTagger, unpackTagger } from '../../src/clauses/tagger.ts'

/**
 * The tagger works out what PyTorch (1.13, its own GRU and convolutions) works out with the same numbers; `npm run tagger` writes the
 * fixture with the net.
 */
const told: { said: string[]; borders: number[]; odds: Record<string, number[]> }[] = JSON.parse(
  readFileSync(new URL('../../fixtures/tagger/pytorch.json', import.meta.url), 'utf8'),
)

test('the odds of talk, utterance after utterance, are those of PyTorch', () => {
  const { facts, tag } = createTagger(unpackTagger(tagger))
  let memory: Float64Array | null = null
  let compared = 0
  for (const { said, borders, odds } of told) {
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
