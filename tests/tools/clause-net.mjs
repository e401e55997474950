// Learning the net of clauses (src/clauses/net.ts): stochastic gradients over batches, words left out at random, so
// that no fact hangs on a single one.
import { createAdam } from './adam.mjs'
import { normals, randomOf, rowsOfSeen, shuffle } from './random.mjs'

const SHAPE = { word: 32, finds: 96, last: 16 }
/** A word must stand in so many clauses to have numbers of its own. */
const SEEN = 3
const ROUNDS = 8
const RATE = 0.003
/** From this round on each goes a quarter slower than the one before. */
const SLOWER = 4
const BATCH = 64
/** The share of words that is left out. */
const LEFT_OUT = 0.15
/** Odds that are as good as right teach nothing. */
const LEAST = 0.004

/** `rows`: `{ tokens, before, tells, open }`, the latter two as numbers of facts. */
export function learnNet(rows, facts, { longest, before: lookBack }, seed = 1) {
  const random = randomOf(seed)
  const seen = new Map()
  for (const { tokens } of rows) for (const token of tokens) seen.set(token, (seen.get(token) ?? 0) + 1)
  const words = rowsOfSeen(seen, SEEN)
  const { word: D, finds: C, last: B } = SHAPE
  const K = facts
  const H = 2 * C + D + B
  const V = words.size + 1
  const listOf = (size, spread) => normals(size, spread, random)
  const net = {
    vectors: listOf(V * D, 0.1),
    window: listOf(3 * D * C, Math.sqrt(2 / (3 * D))),
    windowBase: new Float32Array(C),
    before: listOf(D * B, Math.sqrt(2 / D)),
    beforeBase: new Float32Array(B),
    out: listOf(H * K, 0.3 * Math.sqrt(2 / H)),
    outBase: new Float32Array(K).fill(-4),
  }
  const adam = createAdam(net, { rows: 'vectors', width: D })
  const data = rows.map(({ tokens, before, tells, open }) => ({
    t: Int32Array.from(tokens.slice(0, longest), (token) => words.get(token) ?? 0),
    b: Int32Array.from(before.slice(-lookBack), (token) => words.get(token) ?? 0),
    tells,
    open,
  }))
  const kept = new Float32Array(H)
  const back = new Float32Array(H)
  const odds = new Float64Array(K)
  const found = new Float32Array(longest * C)
  const best = new Int32Array(C)
  const foundBack = new Float32Array(longest * C)
  const active = new Int32Array(K)
  const { vectors, window, windowBase, before, beforeBase, out, outBase } = net
  const { gradient: g, touched } = adam

  function learn({ t, b, tells, open }) {
    const n = t.length
    const share = 1 / Math.sqrt(n)
    const drop = Array.from(t, () => random() < LEFT_OUT)
    kept.fill(0)
    best.fill(-1)
    for (let i = 0; i < n; i++) {
      const at = i * C
      for (let c = 0; c < C; c++) found[at + c] = windowBase[c]
      for (let third = 0; third < 3; third++) {
        const p = i + third - 1
        if (p < 0 || p >= n || drop[p]) continue
        const from = t[p] * D
        for (let j = 0; j < D; j++) {
          const x = vectors[from + j]
          const w = (third * D + j) * C
          for (let c = 0; c < C; c++) found[at + c] += x * window[w + c]
        }
      }
      for (let c = 0; c < C; c++) {
        const x = found[at + c]
        if (x <= 0) continue
        if (x > kept[c]) {
          kept[c] = x
          best[c] = i
        }
        kept[C + c] += share * x
      }
      if (!drop[i]) for (let j = 0; j < D; j++) kept[2 * C + j] += share * vectors[t[i] * D + j]
    }
    const last = 2 * C + D
    for (let k = 0; k < B; k++) kept[last + k] = beforeBase[k]
    for (const row of b)
      for (let j = 0; j < D; j++) {
        const x = vectors[row * D + j] / lookBack
        for (let k = 0; k < B; k++) kept[last + k] += x * before[j * B + k]
      }
    for (let k = 0; k < B; k++) if (kept[last + k] < 0) kept[last + k] = 0
    odds.set(outBase)
    for (let i = 0; i < H; i++) {
      const x = kept[i]
      if (x === 0) continue
      const from = i * K
      for (let k = 0; k < K; k++) odds[k] += x * out[from + k]
    }
    let count = 0
    for (let k = 0; k < K; k++) {
      const isTold = tells.has(k)
      if (!isTold && (odds[k] < -6 || open.has(k))) continue
      const wrong = 1 / (1 + Math.exp(-odds[k])) - (isTold ? 1 : 0)
      if (Math.abs(wrong) < LEAST) continue
      odds[k] = wrong
      active[count++] = k
    }
    if (count === 0) return
    for (let i = 0; i < H; i++) {
      const from = i * K
      let sum = 0
      const x = kept[i]
      for (let a = 0; a < count; a++) {
        const k = active[a]
        sum += odds[k] * out[from + k]
        if (x !== 0) g.out[from + k] += odds[k] * x
      }
      back[i] = sum
    }
    for (let a = 0; a < count; a++) g.outBase[active[a]] += odds[active[a]]
    for (let i = 0; i < n; i++) {
      const at = i * C
      for (let c = 0; c < C; c++)
        foundBack[at + c] = found[at + c] > 0 ? share * back[C + c] + (best[c] === i ? back[c] : 0) : 0
      for (let c = 0; c < C; c++) g.windowBase[c] += foundBack[at + c]
      for (let third = 0; third < 3; third++) {
        const p = i + third - 1
        if (p < 0 || p >= n || drop[p]) continue
        const from = t[p] * D
        for (let j = 0; j < D; j++) {
          const x = vectors[from + j]
          const w = (third * D + j) * C
          let sum = 0
          for (let c = 0; c < C; c++) {
            const y = foundBack[at + c]
            sum += y * window[w + c]
            g.window[w + c] += x * y
          }
          g.vectors[from + j] += sum
        }
      }
      if (drop[i]) continue
      for (let j = 0; j < D; j++) g.vectors[t[i] * D + j] += share * back[2 * C + j]
      touched.add(t[i])
    }
    for (let k = 0; k < B; k++) if (kept[last + k] > 0) g.beforeBase[k] += back[last + k]
    for (const row of b) {
      touched.add(row)
      for (let j = 0; j < D; j++) {
        const x = vectors[row * D + j] / lookBack
        let sum = 0
        for (let k = 0; k < B; k++) {
          if (kept[last + k] <= 0) continue
          sum += back[last + k] * before[j * B + k]
          g.before[j * B + k] += x * back[last + k]
        }
        g.vectors[row * D + j] += sum / lookBack
      }
    }
  }
  for (let round = 0; round < ROUNDS; round++) {
    shuffle(data, random)
    const rate = RATE * 0.75 ** Math.max(0, round - SLOWER)
    data.forEach((row, i) => {
      learn(row)
      if (i % BATCH === BATCH - 1 || i === data.length - 1) adam.step(rate)
    })
  }
  // each fact's own in a row
  const byFact = Float32Array.from({ length: H * K }, (_, at) => net.out[(at % H) * K + Math.floor(at / H)])
  return { words, shape: { facts: K, ...SHAPE }, ...net, out: byFact }
}
