// Learning what cues tell together (src/hives/cue-net.ts), beside the weights of each alone (`lattice.mjs`): the same ways through the
// notes teach both. Numbers of the sum are left out at random, so that nothing hangs on a single one. Steps by AdaGrad.
import { normals } from './random.mjs'

/** Numbers of a cue. */
export const WIDTH = 24
const RATE = 0.03
const L2 = 0.0005
const LEFT_OUT = 0.3

/** A net of so many `rows` of cues, `hows` ways of taking a call and `batch` notes between steps. */
export function createCueNet(rows, hows, batch, random) {
  const list = (size, spread) => {
    const now = normals(size, spread, random)
    return { now, gradient: new Float32Array(size), squares: new Float32Array(size), sums: new Float64Array(size) }
  }
  const vectors = list(rows * WIDTH, 0.1)
  const base = list(WIDTH, 0)
  const out = list(hows * WIDTH, 0.3)
  const kept = new Float32Array(WIDTH).fill(1)
  const all = new Float32Array(WIDTH)
  const back = new Float32Array(WIDTH)
  const touched = new Set()
  let summed = 0

  /** What a sum counts for a way of taking a call: by itself, and for all ways together. */
  const outOf = (how, h) => kept[h] * (out.now[h] + out.now[how * WIDTH + h])
  const addUp = (sum, steps) => {
    all.set(sum)
    for (const row of steps) for (let h = 0, at = row * WIDTH; h < WIDTH; h++, at++) all[h] += vectors.now[at]
  }
  const move = ({ now, gradient, squares }, from, to, pull) => {
    for (let i = from; i < to; i++) {
      const g = gradient[i] + pull * now[i]
      squares[i] += g * g
      now[i] -= (RATE * g) / Math.sqrt(squares[i] + 1)
      gradient[i] = 0
    }
  }
  return {
    /** Before each note: other numbers are left out. */
    leaveOut() {
      for (let h = 0; h < WIDTH; h++) kept[h] = random() < LEFT_OUT ? 0 : 1 / (1 - LEFT_OUT)
    },
    sum(own) {
      const sum = base.now.slice()
      for (const row of own) for (let h = 0, at = row * WIDTH; h < WIDTH; h++, at++) sum[h] += vectors.now[at]
      return sum
    },
    worth(sum, steps, how) {
      addUp(sum, steps)
      let worth = 0
      for (let h = 0; h < WIDTH; h++) if (all[h] > 0) worth += all[h] * outOf(how, h)
      return worth
    },
    /** Learns from a step that should be worth less by `off`; what falls on the cues of the call is added to `behind`. */
    learn(sum, steps, how, off, behind) {
      addUp(sum, steps)
      for (let h = 0; h < WIDTH; h++) {
        back[h] = 0
        if (all[h] <= 0 || kept[h] === 0) continue
        out.gradient[h] += off * all[h] * kept[h]
        out.gradient[how * WIDTH + h] += off * all[h] * kept[h]
        back[h] = off * outOf(how, h)
        behind[h] += back[h]
        base.gradient[h] += back[h]
      }
      for (const row of steps) {
        touched.add(row)
        for (let h = 0, at = row * WIDTH; h < WIDTH; h++, at++) vectors.gradient[at] += back[h]
      }
    },
    /** Hands on to the cues of a call what was gathered `behind` its steps, and empties it. */
    handOn(own, behind) {
      if (behind.every((x) => x === 0)) return
      for (const row of own) {
        touched.add(row)
        for (let h = 0, at = row * WIDTH; h < WIDTH; h++, at++) vectors.gradient[at] += behind[h]
      }
      behind.fill(0)
    },
    step() {
      for (const row of touched) move(vectors, row * WIDTH, (row + 1) * WIDTH, L2 * batch)
      touched.clear()
      move(base, 0, WIDTH, 0)
      move(out, 0, hows * WIDTH, L2)
    },
    /** Takes the numbers as they are now into the mean that is learned. */
    takeIn() {
      summed++
      for (const { now, sums } of [vectors, base, out]) for (let i = 0; i < now.length; i++) sums[i] += now[i]
    },
    /** The net as it is kept; `names` are those of its rows. */
    learned(names) {
      const mean = ({ sums }) => Float32Array.from(sums, (x) => x / Math.max(1, summed))
      const ways = mean(out)
      return {
        cues: new Map(names.map((name, i) => [name, i])),
        width: WIDTH,
        vectors: mean(vectors),
        base: mean(base),
        out: ways.map((x, i) => (i < WIDTH ? x : x + ways[i % WIDTH])),
      }
    },
  }
}
