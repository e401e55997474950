// Learning a net over words in slots (src/slot-net.ts): stochastic gradients over batches, words and what is made of them
// left out at random, so that nothing hangs on a single one.
import { createAdam } from './adam.mjs'
import { normals, randomOf, rowsOfSeen, shuffle } from './random.mjs'

const RATE = 0.002
/** What is left of it at the end. */
const LAST = 0.1
const BATCH = 128
const PULL = 1e-5
/** Odds that are as good as right teach nothing. */
const LEAST = 0.002

/**
 * `rows`: `{ slots: [{ said, slot, share }], tells, open }`, the latter two sets of numbers of what is asked; there are `asked` of
 * them, and `slots` slots. A word must be `seen` so often to have numbers of its own; `leftOut` are shares of words and of what is made
 * of them. More rounds than a net needs make it worse on what it has not seen.
 */
export function learnSlotNet(
  rows,
  { slots, asked, seen: least, word: WORD = 16, hidden: HIDDEN = 32, rounds, leftOut },
  seed = 1,
) {
  const random = randomOf(seed)
  const seen = new Map()
  for (const row of rows) for (const { said } of row.slots) seen.set(said, (seen.get(said) ?? 0) + 1)
  const words = rowsOfSeen(seen, least)
  const none = new Set()
  const data = rows.map((row) => ({
    words: Int32Array.from(row.slots, ({ said }) => words.get(said) ?? 0),
    at: Int32Array.from(row.slots, ({ slot }) => slot),
    share: Float32Array.from(row.slots, ({ share }) => share),
    tells: row.tells,
    open: row.open ?? none,
  }))
  const list = (size, spread) => normals(size, spread, random)
  const net = {
    vectors: list((words.size + 1) * WORD, 0.1),
    slots: list(slots * WORD * HIDDEN, Math.sqrt(2 / (slots * WORD))),
    base: list(HIDDEN, 0),
    out: list(asked * HIDDEN, 0.1),
    outBase: new Float32Array(asked).fill(asked === 1 ? -2 : -4),
  }
  const adam = createAdam(net, { rows: 'vectors', width: WORD, pull: PULL })
  const { gradient: g, touched } = adam
  const found = new Float32Array(HIDDEN)
  const kept = new Float32Array(HIDDEN)
  const back = new Float32Array(HIDDEN)
  const scale = 1 / BATCH
  const learn = ({ words: own, at, share, tells, open }) => {
    const dropped = Array.from(own, () => random() < leftOut.word)
    found.set(net.base)
    for (let i = 0; i < own.length; i++) {
      if (dropped[i]) continue
      for (let j = 0; j < WORD; j++) {
        const x = share[i] * net.vectors[own[i] * WORD + j]
        const from = (at[i] * WORD + j) * HIDDEN
        for (let h = 0; h < HIDDEN; h++) found[h] += x * net.slots[from + h]
      }
    }
    for (let h = 0; h < HIDDEN; h++) {
      kept[h] = found[h] > 0 && random() >= leftOut.hidden ? 1 / (1 - leftOut.hidden) : 0
      back[h] = 0
    }
    let any = false
    for (let k = 0; k < asked; k++) {
      let odds = net.outBase[k]
      for (let h = 0; h < HIDDEN; h++) odds += kept[h] * found[h] * net.out[k * HIDDEN + h]
      const isTold = tells.has(k)
      if (!isTold && open.has(k)) continue
      const off = 1 / (1 + Math.exp(-odds)) - (isTold ? 1 : 0)
      if (Math.abs(off) < LEAST) continue
      any = true
      const wrong = scale * off
      g.outBase[k] += wrong
      for (let h = 0; h < HIDDEN; h++) {
        g.out[k * HIDDEN + h] += wrong * kept[h] * found[h]
        back[h] += wrong * net.out[k * HIDDEN + h]
      }
    }
    if (!any) return
    for (let h = 0; h < HIDDEN; h++) {
      back[h] *= kept[h]
      g.base[h] += back[h]
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
  const all = rounds * data.length
  for (let round = 0; round < rounds; round++) {
    shuffle(data, random)
    data.forEach((row, i) => {
      learn(row)
      const done = (round * data.length + i + 1) / all
      if (i % BATCH === BATCH - 1 || i === data.length - 1) adam.step(RATE * (1 - (1 - LAST) * done))
    })
  }
  return { words, word: WORD, hidden: HIDDEN, ...net }
}
