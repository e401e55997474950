import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { AMOUNT_SLOTS, slotsOfAmount } from '../src/clauses/amount-net.ts'
import type { HeardBefore } from '../src/clauses/reader.ts'
import { createTagger, packTagger, type TaggerNet, unpackTagger } from '../src/clauses/tagger.ts'
import { fitted } from '../src/fitted/fitted.ts'
import { english } from '../src/grammar/english.ts'
import { CALL_SLOTS, REACH, slotsOfCall } from '../src/hives/call-net.ts'
import { commonWords, packCommonWords, stepOf } from '../src/hives/common-words.ts'
import { contextOf, type Spoken, spokenOf } from '../src/hives/context.ts'
import { type CueNet, packCueNet, together, unpackCueNet } from '../src/hives/cue-net.ts'
import { readAmount } from '../src/language/amounts.ts'
import { splitUtterances } from '../src/language/utterances.ts'
import { packNumbers, unpackNumbers } from '../src/packed-numbers.ts'
import { utterancesOf } from '../src/read.ts'
import { listed, packSlotNet, slotNet, unpackSlotNet } from '../src/slot-net.ts'
import { openTranscript } from '../src/transcript/open.ts'

/** The small nets that weigh clauses and calls: what they work out equals the sums written down plainly. */

/** Numbers that depend on their place alone, whole steps of what is kept, so that packing takes nothing away. */
const numbers = (size: number, seed: number): Float32Array => {
  const list = Float32Array.from({ length: size }, (_, i) => (((i * 7919 + seed * 104729) % 89) - 44) / 44)
  list[0] = 1
  return list
}
const rowsOf = (words: readonly string[]): Map<string, number> => new Map(words.map((word, i) => [word, i + 1]))

test('numbers come back within half a step of what they were, but for those cut', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 1, maxLength: 60 }), (list) => {
      const packed = packNumbers(Float32Array.from(list))
      const step = Number(packed.slice(0, packed.indexOf(' ')))
      const back = unpackNumbers(packed)
      expect(back.length).toBe(list.length)
      list.forEach((x, i) => {
        if (Math.abs(x) <= 44 * step) expect(Math.abs(back[i]! - x)).toBeLessThanOrEqual(step / 2 + 1e-6)
        else expect(Math.abs(back[i]!)).toBeCloseTo(44 * step, 4)
      })
      expect(packed).not.toMatch(/["\\]/)
    }),
  )
})

describe('word by word', () => {
  const [facts, word, memory, finds] = [3, 2, 3, 4]
  const made: TaggerNet = {
    facts: ['eggs.present=yes', 'queen.seen=yes', 'frames.brood=#'],
    words: rowsOf(['eggs', 'no', 'brood']),
    shape: { word, memory, finds },
    vectors: numbers(4 * word, 1),
    borders: numbers(6 * word, 2),
    heard: numbers(word * 3 * memory, 3),
    heardBase: numbers(3 * memory, 4),
    again: numbers(memory * 3 * memory, 5),
    againBase: numbers(3 * memory, 6),
    around: numbers(3 * (word + memory) * finds, 7),
    aroundBase: numbers(finds, 8),
    wider: numbers(3 * finds * finds, 9),
    widerBase: numbers(finds, 10),
    widest: numbers(3 * finds * finds, 11),
    widestBase: numbers(finds, 12),
    out: numbers(finds * facts, 13),
    outBase: numbers(facts, 14),
  }
  const net = unpackTagger(packTagger(made))
  const times = (from: readonly number[], table: Float32Array, start: number, width: number, to: number): number =>
    from.reduce((sum, x, j) => sum + x * table[start + j * width + to]!, 0)
  const upTo = (size: number) => [...Array(size).keys()]
  /** The odds of all words as the sums say them, and what is remembered. */
  function plainly(words: readonly string[], borders: readonly number[], before: readonly number[]) {
    const vectors = words.map((name, i) => {
      const row = net.words.get(name) ?? 0
      return upTo(word).map((j) => net.vectors[row * word + j]! + net.borders[borders[i]! * word + j]!)
    })
    const sigmoid = (x: number) => 1 / (1 + Math.exp(-x))
    let last = before
    const remembered = vectors.map((vector) => {
      const heard = (at: number) => times(vector, net.heard, 0, 3 * memory, at) + net.heardBase[at]!
      const again = (at: number) => times(last, net.again, 0, 3 * memory, at) + net.againBase[at]!
      last = upTo(memory).map((i) => {
        const reset = sigmoid(heard(i) + again(i))
        const keep = sigmoid(heard(memory + i) + again(memory + i))
        const fresh = Math.tanh(heard(2 * memory + i) + reset * again(2 * memory + i))
        return (1 - keep) * fresh + keep * last[i]!
      })
      return last
    })
    const layer = (rows: readonly (readonly number[])[], table: Float32Array, base: Float32Array, apart: number) =>
      rows.map((_, i) =>
        upTo(finds).map((c) => {
          const sums = upTo(3).map((third) => {
            const row = rows[i + (third - 1) * apart]
            return row ? times(row, table, third * row.length * finds, finds, c) : 0
          })
          return Math.max(0, sums[0]! + sums[1]! + sums[2]! + base[c]!)
        }),
      )
    const plus = (a: number[][], b: number[][]) => a.map((row, i) => row.map((x, c) => x + b[i]![c]!))
    const first = layer(
      vectors.map((vector, i) => [...vector, ...remembered[i]!]),
      net.around,
      net.aroundBase,
      1,
    )
    const second = plus(layer(first, net.wider, net.widerBase, 2), first)
    const third = plus(layer(second, net.widest, net.widestBase, 4), second)
    return {
      odds: third.flatMap((row) => upTo(facts).map((k) => times(row, net.out, 0, facts, k) + net.outBase[k]!)),
      memory: last,
    }
  }

  test.each([
    [['eggs'], [5], null],
    [
      ['no', 'eggs', 'in', 'the', 'brood', 'no', 'brood'],
      [5, 0, 0, 1, 0, 3, 0],
      [0.5, -0.25, 0.75],
    ],
  ])('the odds of %j are the sums written down plainly', (words, borders, before) => {
    const tagged = createTagger(net).tag(words, borders, before && Float64Array.from(before))
    const sums = plainly(words, borders, before ?? [0, 0, 0])
    for (const [i, x] of sums.odds.entries()) expect(tagged.odds[i]! / x).toBeCloseTo(1, 4)
    for (const [i, x] of sums.memory.entries()) expect(tagged.memory[i]).toBeCloseTo(x, 5)
  })
})

describe('of calls', () => {
  const said = (text: string): Spoken[] =>
    text.split(' ').map((word) => ({
      said: word.replace(/^[.,]/, ''),
      n: null,
      mark: word.startsWith('.') ? '.' : word.startsWith(',') ? ',' : '',
    }))

  test('what stands around a call, nearest first, marks among it', () => {
    const spoken = said('lid on .right ,hive two .six frames of bees')
    expect(contextOf(spoken, 3, 5, 'line', REACH)).toEqual({
      kind: 'line',
      own: ['hive', 'two'],
      before: [',', 'right', '.', 'on', 'lid'],
      behind: ['.', 'six', 'frames', 'of', 'bees'],
    })
    expect(contextOf(spoken, 0, 1, 'name', REACH).before).toEqual([])
    expect(contextOf(spoken, 8, 9, 'name', REACH).behind).toEqual([])
  })

  test('numbers around a number are told by how far they are from it, as digits and as words', () => {
    const text = openTranscript('4 eggs five sealed 6 half twenty one brood', 'note')
    const spoken = splitUtterances(text, english(), null).flatMap(({ words }) => spokenOf(words))
    const { before, behind, own } = contextOf(spoken, 2, 3, 'bare', REACH, 5)
    expect([before, own, behind]).toEqual([['eggs', '<-1>'], ['<n>'], ['sealed', '<1>', 'half', '<+far>', 'brood']])
    expect(contextOf(spoken, 1, 2, 'name', REACH).behind.slice(0, 2)).toEqual(['<n>', 'sealed'])
  })

  test('words stand in the slots that there are', () => {
    const around = contextOf(said('lid on .right ,hive two .six frames of bees .right'), 3, 5, 'bare', REACH)
    const slots = listed((give) => slotsOfCall(around, give))
    expect(slots.every(({ slot }) => slot >= 0 && slot < CALL_SLOTS)).toBe(true)
    expect(slots.find(({ said }) => said === '=bare')?.slot).toBe(CALL_SLOTS - 1)
    expect(new Set(slots.filter(({ said }) => said === 'right').map(({ slot }) => slot)).size).toBe(2)
  })

  test('what ships finds a call likelier where one is than where a frame or a count is', () => {
    const { callNet } = fitted()!.hives
    const odds = (text: string, from: number) => callNet.odds(contextOf(said(text), from, from + 1, 'bare', REACH))
    const plain = odds('lid on that one done .right .three .six frames of brood saw the queen', 6)
    expect(plain).toBeGreaterThan(odds('second box .frame three is full of honey on both sides', 3))
    expect(plain).toBeGreaterThan(odds('and i gave them another three kilos of fondant on top', 5))
  })
})

describe('of words in slots', () => {
  const [word, hidden, slots, asked] = [3, 4, 5, 2]
  const words = rowsOf(['hive', 'two', '.', 'right'])
  const packed = packSlotNet({
    words,
    word,
    hidden,
    vectors: numbers(5 * word, 1),
    slots: numbers(slots * word * hidden, 2),
    base: numbers(hidden, 4),
    out: numbers(asked * hidden, 5),
    outBase: numbers(asked, 6),
  })

  test('the odds are the sums written down plainly', () => {
    const net = unpackSlotNet(packed)
    const items = [
      { said: 'hive', slot: 0, share: 1 },
      { said: 'unheard of', slot: 3, share: 0.5 },
      { said: 'right', slot: 4, share: 1 },
      { said: 'hive', slot: 4, share: 0.25 },
    ]
    const found = Array.from({ length: hidden }, (_, h) => {
      let sum = net.base[h]!
      for (const { said, slot, share } of items) {
        const row = words.get(said) ?? 0
        for (let j = 0; j < word; j++)
          sum += share * net.vectors[row * word + j]! * net.slots[(slot * word + j) * hidden + h]!
      }
      return Math.max(0, sum)
    })
    const oddsOf = slotNet(net)
    const odds = () =>
      oddsOf((give) => {
        for (const { said, slot, share } of items) give(said, slot, share)
      })
    for (let k = 0; k < asked; k++) {
      const plainly = found.reduce((sum, x, h) => sum + x * net.out[k * hidden + h]!, net.outBase[k]!)
      expect(odds()[k]).toBeCloseTo(plainly, 4)
    }
    expect([...odds()]).toEqual([...odds()])
  })
})

describe('of amounts', () => {
  const { clauses } = fitted()!
  /** What each amount of a text is one of most likely, the ones before it taken as such. */
  function fieldsIn(text: string): string[] {
    const out: string[] = []
    let before = { shapes: [] as readonly string[], roles: [] as readonly string[] }
    let heard: HeardBefore = { words: [], memory: null }
    for (const { words } of utterancesOf(openTranscript(text, 'note'))) {
      const { senses, heard: then } = clauses.senses(words, heard)
      heard = then
      senses.forEach((sense, i) => {
        sense.clause.amounts.forEach((_, which) => {
          const best = clauses.amountOf(sense, which, before, senses.slice(i + 1))[0]!
          const role = best.odds > 0 ? best.field : 'none'
          out.push(role)
          before = { ...before, roles: [role, ...before.roles] }
        })
        before = clauses.amountsAfter(before, sense)
      })
    }
    return out
  }

  test('words stand in the slots that there are', () => {
    const amount = readAmount(utterancesOf(openTranscript('ninety', 'note'))[0]!.words, 0)!
    const many = Array.from({ length: 80 }, (_, i) => `word ${i}`)
    const context = { amount, before: many, behind: many, roles: ['none', 'seams.bees', 'none'] }
    const items = listed((give) => slotsOfAmount(context, give))
    expect(items.every(({ slot }) => slot >= 0 && slot < AMOUNT_SLOTS)).toBe(true)
  })

  test('what ships tells shares of honey in a walk from counts', () => {
    expect(fieldsIn('Next frame, this side is ninety percent capped, the other side eighty.')).toEqual([
      'honey.cappedPercent',
      'honey.cappedPercent',
    ])
    expect(fieldsIn('Seven frames of brood and bees on nine seams.')).toEqual(['frames.brood', 'seams.bees'])
    expect(fieldsIn('I paid forty for the suit and my boy is eleven.')).toEqual(['none', 'none'])
  })
})

describe('of cues together', () => {
  const [width, ways] = [3, 2]
  const made: CueNet = {
    cues: new Map(['is first', 'closed', 'step', 'again 1'].map((cue, i) => [cue, i])),
    width,
    vectors: numbers(4 * width, 1),
    base: numbers(width, 2),
    out: numbers(ways * width, 3),
  }
  const net = unpackCueNet(packCueNet(made))
  const vector = (name: string, h: number): number => net.vectors[net.cues.get(name)! * width + h]!

  test('what is packed comes back, blanks in names as well', () => {
    expect(net.cues).toEqual(made.cues)
    expect(net.width).toBe(width)
    expect([...net.vectors]).toEqual([...made.vectors].map((x) => expect.closeTo(x, 2)))
  })

  test('the sum of the cues counts where it is above none, by the way of taking the call', () => {
    const scales = together(net)(['step', 'nothing since', 'again 1'])
    for (const [own, steps, said] of [
      [
        ['is first', 'unheard of'],
        [0, 1],
        ['is first', 'step'],
      ],
      [['closed'], [2], ['closed', 'again 1']],
      [[], [], []],
    ] as const)
      for (let way = 0; way < ways; way++) {
        let worth = 0
        for (let h = 0; h < width; h++) {
          const sum = said.reduce((all, cue) => all + vector(cue, h), net.base[h]!)
          worth += Math.max(0, sum) * net.out[way * width + h]!
        }
        expect(scales.worth(scales.sum(own), way, steps)).toBeCloseTo(worth, 4)
      }
  })
})

describe('how common words are', () => {
  const counted = new Map([
    ['overall', { common: stepOf('common', 40), name: 0 }],
    ['holly', { common: stepOf('common', 2), name: stepOf('name', 7) }],
    ['seldom', { common: stepOf('common', 1), name: 0 }],
  ])
  const packed = packCommonWords(counted)
  const cuesOf = commonWords(packed)

  test('is kept in steps, and of what says nothing not at all', () => {
    expect(packed).toEqual({ '1 3': 'holly', '5 0': 'overall' })
  })

  test('is told of the rarest word of a label, and of its last', () => {
    expect(cuesOf('overall')).toEqual(['common 5', 'name 0', 'common 5 name 0'])
    expect(cuesOf('holly overall')).toEqual(['common 1', 'name 3', 'common 1 name 3', 'common at last 5'])
    expect(cuesOf('seldom')).toEqual(['common 0', 'name 0', 'common 0 name 0'])
    expect(cuesOf('nuc 2')).toEqual([])
    expect(cuesOf('14')).toEqual([])
  })
})
