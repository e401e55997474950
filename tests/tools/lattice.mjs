// Learning weights of calls when only the hive of each fact is known, not the calls: all ways through a note are weighed at
// once, those that give the facts the right hive against all others (a conditional random field over the follower's beam with
// hidden calls; wrong facts make a way count more, Gimpel & Smith 2010: softmax-margin). Steps by AdaGrad, held down by L1 and L2.
import { createCueNet, WIDTH } from './cue-net.mjs'
import { shuffle } from './random.mjs'

/** Ways kept at each place, as `follow.ts` keeps them. */
const BEAM = 12
/** What a wrong fact adds to a way when all are weighed; and what it takes from it when the right ones are. */
const COST = 0.5
const MUST = 20
const RATE = 0.15
const L2 = 0.0005
/** What weights that hardly matter lose of what they are, until they are none (L1). */
const L1 = 0.0015
/** Notes between two steps. */
const BATCH = 8
/** Less likely steps count for nothing. */
const LEAST = 1e-4
/** Steps between those of which the net's numbers are taken in. */
const SELDOM = 8

/** Cues of single words and lines tell nothing together with others: they are too many. */
const isOneWord = (cue) => /^([ab][12]|line|bc|ac|bac|on) /.test(cue)

const same = (a, b) => a === b || (a.length === b.length && a.every((x, i) => x === b[i]))
/** log(exp(a) + exp(b)) */
const both = (a, b) => {
  if (a === Number.NEGATIVE_INFINITY) return b
  if (b === Number.NEGATIVE_INFINITY) return a
  return a > b ? a + Math.log1p(Math.exp(b - a)) : b + Math.log1p(Math.exp(a - b))
}

/**
 * Learns from notes (`calls`, `due`, `weight`). `open` gives for each cue of a call for which ways of taking it a weight is
 * learned; the result is a map from cue to a row of weights, the mean of the later steps, and a net of what cues are worth together.
 */
export function learnWeights(inside, notes, open, rnd, epochs) {
  const { HOW, STEP_CUES, cuesOfStep, goesTo, howTaken, runAfter, START } = inside
  const hows = HOW.length
  const steps = STEP_CUES.length
  const cues = [...open.keys()]
  const ids = new Map(cues.map((cue, i) => [cue, i + steps]))
  const size = (steps + cues.length) * hows
  const isOpen = new Uint8Array(size).fill(1)
  for (const [i, cue] of cues.entries()) isOpen.set(open.get(cue), (steps + i) * hows)
  const w = new Float64Array(size)
  const squares = new Float64Array(size)
  const gradient = new Float64Array(size)
  const sums = new Float64Array(size)
  let touched = []
  // rows of the net: the cues of steps, then those of calls that are in enough notes in whatever way
  const inNet = [...STEP_CUES, ...cues.filter((cue) => open.get(cue)[0] && !isOneWord(cue))]
  const netRows = new Map(inNet.map((cue, i) => [cue, i]))
  const net = createCueNet(inNet.length, hows, BATCH, rnd)

  const items = notes.map(({ calls, due, weight }) => ({
    due,
    weight,
    calls: calls.map((weighed) => ({
      weighed,
      how: howTaken(weighed.call),
      rows: Int32Array.from(weighed.cues.flatMap((cue) => ids.get(cue) ?? [])),
      inNet: Int32Array.from(weighed.cues.flatMap((cue) => netRows.get(cue) ?? [])),
      base: 0,
      sum: null,
      share: 0,
      behind: new Float32Array(WIDTH),
    })),
  }))
  const at = (row, how) => w[row * hows] + w[row * hows + how]
  const add = (key, x) => {
    if (!isOpen[key]) return
    if (gradient[key] === 0) touched.push(key)
    gradient[key] += x
  }

  /** The path of a way that takes a call. */
  const taken = (path, call, to) => ({
    labels: to,
    call: call.weighed,
    before: null,
    seen: to.every((label) => path.seen.includes(label)) ? path.seen : [...new Set([...path.seen, ...to])],
    other: to[0] !== path.labels[0] && path.taken > 0 ? path.labels : path.other,
    taken: path.taken + 1,
    run: runAfter(path, to),
  })
  /** All ways of the beam through a note, and the logarithm of their sum; each wrong fact adds `cost`. */
  const ways = ({ calls, due }, cost) => {
    let beam = [{ path: START, sum: 0, ahead: Number.NEGATIVE_INFINITY, cost: 0, into: [] }]
    let next = 0
    const charge = (upTo) => {
      for (; next < due.length && due[next].at < upTo; next++)
        for (const node of beam)
          if (!node.path.labels.some((label) => due[next].labels.includes(label))) {
            node.cost += cost
            node.sum += cost
          }
    }
    const gone = []
    for (const call of calls) {
      const { start } = call.weighed.call
      charge(start)
      const all = []
      for (const node of beam) {
        const { path } = node
        if (path.call && path.call.call.end > start) continue
        const to = goesTo(path, call.weighed.call)
        if (!to) continue
        const cues = cuesOfStep(path, call.weighed, to)
        let gain = call.base + net.worth(call.sum, cues, call.how)
        for (const cue of cues) gain += at(cue, call.how)
        all.push({ node, to, cues, gain, sum: node.sum + gain })
      }
      if (all.length === 0) continue
      for (const node of beam) all.push({ node, to: null, cues: [], gain: 0, sum: node.sum })
      all.sort((a, b) => b.sum - a.sum)
      const kept = []
      for (const way of all) {
        let here = way.to ? kept.find(({ call, path }) => call && same(path.labels, way.to)) : undefined
        if (!here) {
          if (kept.length === BEAM) continue
          const path = way.to ? taken(way.node.path, call, way.to) : way.node.path
          const none = Number.NEGATIVE_INFINITY
          here = { path, call: way.to && call, sum: none, ahead: none, cost: 0, into: [] }
          kept.push(here)
        }
        here.sum = both(here.sum, way.sum)
        here.into.push(way)
      }
      beam = kept
      gone.push(kept)
    }
    charge(Number.POSITIVE_INFINITY)
    let total = Number.NEGATIVE_INFINITY
    for (const node of beam) {
      node.ahead = node.cost
      total = both(total, node.sum)
    }
    return { gone, total }
  }
  /** Adds how often each weight counts on those ways. */
  const count = ({ gone, total }, sign) => {
    for (const nodes of gone.reverse())
      for (const { call, ahead, into } of nodes) {
        if (ahead === Number.NEGATIVE_INFINITY) continue
        for (const way of into) {
          way.node.ahead = both(way.node.ahead, way.gain + ahead + way.node.cost)
          if (!way.to) continue
          const share = Math.exp(way.sum + ahead - total)
          if (share < LEAST) continue
          for (const row of way.cues) {
            add(row * hows, sign * share)
            add(row * hows + call.how, sign * share)
          }
          call.share += sign * share
          net.learn(call.sum, way.cues, call.how, sign * share, call.behind)
        }
      }
  }
  /** The same for the cues of the calls themselves, for all their steps at once. */
  const countCalls = ({ calls }) => {
    for (const call of calls) {
      for (const row of call.rows) {
        add(row * hows, call.share)
        add(row * hows + call.how, call.share)
      }
      net.handOn(call.inNet, call.behind)
      call.share = 0
    }
  }
  let done = 0
  let summed = 0
  const step = () => {
    done++
    for (const key of touched) {
      const g = gradient[key]
      squares[key] += g * g
      w[key] -= (RATE * g) / Math.sqrt(squares[key] + 1)
      gradient[key] = 0
    }
    touched = []
    for (let key = 0; key < size; key++) {
      if (w[key] === 0) continue
      const rate = (RATE * BATCH) / Math.sqrt(squares[key] + 1)
      w[key] = Math.sign(w[key]) * Math.max(0, Math.abs(w[key]) / (1 + rate * L2) - rate * L1)
    }
    net.step()
    if (done * BATCH * 2 < items.length * epochs) return
    if (done % SELDOM === 0) net.takeIn()
    summed++
    for (let key = 0; key < size; key++) sums[key] += w[key]
  }
  const order = items.map((_, i) => i)
  for (let epoch = 0; epoch < epochs; epoch++) {
    shuffle(order, rnd)
    order.forEach((k, nth) => {
      const item = items[k]
      net.leaveOut()
      for (const call of item.calls) {
        call.base = 0
        for (const row of call.rows) call.base += at(row, call.how)
        call.sum = net.sum(call.inNet)
      }
      count(ways(item, COST), item.weight)
      count(ways(item, -MUST), -item.weight)
      countCalls(item)
      if (nth % BATCH === BATCH - 1 || nth === order.length - 1) step()
    })
  }
  const out = new Map()
  for (let row = 0; row < steps + cues.length; row++) {
    const worth = Array.from(sums.subarray(row * hows, (row + 1) * hows), (x) => x / summed)
    if (worth.some((x) => Math.abs(x) > 1e-3)) out.set(row < steps ? STEP_CUES[row] : cues[row - steps], worth)
  }
  return { weights: out, cueNet: net.learned(inNet) }
}
