// Learning the net of calls (src/hives/call-net.ts): stochastic gradients over batches, words and what is made of them left out
// at random, so that nothing hangs on a single one.
import { createAdam } from './adam.mjs'
import { normals, randomOf, rowsOfSeen, shuffle } from './random.mjs'

const [WORD, HIDDEN] = [16, 32]
/** A word must stand around so many calls to have numbers of its own. */
const SEEN = 15
const ROUNDS = 4
const RATE = 0.002
const BATCH = 128
const LEFT_OUT = { word: 0.1, hidden: 0.2 }
const PULL = 1e-5

/** `rows`: `{ around, isTaken }`. */
export function learnCallNet({ slotsOf, KINDS, SLOTS }, rows, seed = 1) {
  const random = randomOf(seed)
  const seen = new Map()
  const data = rows.map(({ around, isTaken }) => {
    const slots = slotsOf(around)
    for (const { said } of slots) seen.set(said, (seen.get(said) ?? 0) + 1)
    return { slots, kind: KINDS.indexOf(around.kind), isTaken }
  })
  const words = rowsOfSeen(seen, SEEN)
  for (const row of data) {
    row.words = Int32Array.from(row.slots, ({ said }) => words.get(said) ?? 0)
    row.at = Int32Array.from(row.slots, ({ slot }) => slot)
    row.share = Float32Array.from(row.slots, ({ share }) => share)
    row.slots = null
  }
  const list = (size, spread) => normals(size, spread, random)
  const net = {
    vectors: list((words.size + 1) * WORD, 0.1),
    slots: list(SLOTS * WORD * HIDDEN, Math.sqrt(2 / (SLOTS * WORD))),
    kinds: list(KINDS.length * HIDDEN, 0.1),
    base: list(HIDDEN, 0),
    out: list(HIDDEN, 0.1),
    outBase: Float32Array.of(-2),
  }
  const adam = createAdam(net, { rows: 'vectors', width: WORD, pull: PULL })
  const { gradient: g, touched } = adam
  const found = new Float32Array(HIDDEN)
  const back = new Float32Array(HIDDEN)
  const learn = ({ words: own, at, share, kind, isTaken }, scale) => {
    const dropped = Array.from(own, () => random() < LEFT_OUT.word)
    for (let h = 0; h < HIDDEN; h++) found[h] = net.base[h] + net.kinds[kind * HIDDEN + h]
    for (let i = 0; i < own.length; i++) {
      if (dropped[i]) continue
      for (let j = 0; j < WORD; j++) {
        const x = share[i] * net.vectors[own[i] * WORD + j]
        const from = (at[i] * WORD + j) * HIDDEN
        for (let h = 0; h < HIDDEN; h++) found[h] += x * net.slots[from + h]
      }
    }
    let odds = net.outBase[0]
    for (let h = 0; h < HIDDEN; h++) {
      back[h] = found[h] > 0 && random() >= LEFT_OUT.hidden ? 1 / (1 - LEFT_OUT.hidden) : 0
      odds += back[h] * found[h] * net.out[h]
    }
    const wrong = scale * (1 / (1 + Math.exp(-odds)) - (isTaken ? 1 : 0))
    g.outBase[0] += wrong
    for (let h = 0; h < HIDDEN; h++) {
      g.out[h] += wrong * back[h] * found[h]
      back[h] *= wrong * net.out[h]
      g.base[h] += back[h]
      g.kinds[kind * HIDDEN + h] += back[h]
    }
    for (let i = 0; i < own.length; i++) {
      if (dropped[i]) continue
      touched.add(own[i])
      for (let j = 0; j < WORD; j++) {
        const v = own[i] * WORD + j
        const x = share[i] * net.vectors[v]
        const from = (at[i] * WORD + j) * HIDDEN
        let sum = 0
        for (let h = 0; h < HIDDEN; h++) {
          sum += back[h] * net.slots[from + h]
          g.slots[from + h] += x * back[h]
        }
        g.vectors[v] += share[i] * sum
      }
    }
  }
  for (let round = 0; round < ROUNDS; round++) {
    shuffle(data, random)
    const rate = RATE * 0.7 ** Math.max(0, round - 2)
    data.forEach((row, i) => {
      learn(row, 1 / BATCH)
      if (i % BATCH === BATCH - 1 || i === data.length - 1) adam.step(rate)
    })
  }
  return { words, word: WORD, hidden: HIDDEN, ...net }
}
