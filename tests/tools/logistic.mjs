// Logistic regression with shrinkage towards a prior and with forced signs: Newton's method on sparse rows.
import { CholeskyDecomposition, Matrix } from 'ml-matrix'

export const sigmoid = (x) => 1 / (1 + Math.exp(-x))

/** A step this small ends the fit. */
const SMALL = 1e-3

/**
 * Fits P(right) = sigmoid(base + Σ weight · size).
 * rows: [{ at: columns in rising order, size: their sizes, y: 0 | 1 }]; columns: [{ shrink, prior?, sign? }], where
 * `shrink` is the strength of the pull towards `prior` (0 when left out) and `sign` is -1 or +1 for a weight that may not
 * turn. Gives the weights in the order of the columns.
 */
export function fitLogistic(rows, columns, { rounds = 60, start } = {}) {
  const w = Float64Array.from(start ?? columns.map(({ prior = 0 }) => prior))
  const held = new Set()
  const letGo = new Set()
  let loss = lossOf(rows, columns, w)
  for (let round = 0; round < rounds; round++) {
    const { gradient, hessian } = derivatives(rows, columns, w)
    const free = columns.map((_, j) => j).filter((j) => !held.has(j))
    const left = new Matrix(free.map((j) => free.map((k) => hessian[Math.max(j, k)][Math.min(j, k)])))
    const step = new CholeskyDecomposition(left).solve(Matrix.columnVector(free.map((j) => gradient[j]))).to1DArray()
    // weights that would turn are held at zero, and the step is reckoned anew without them
    const turning = free.filter((j, i) => columns[j].sign !== undefined && (w[j] - step[i]) * columns[j].sign < 0)
    for (const j of turning) {
      held.add(j)
      w[j] = 0
    }
    if (turning.length > 0) {
      loss = lossOf(rows, columns, w)
      continue
    }
    // half the step as long as it overshoots
    let share = 1
    let next = w
    for (; share > 1e-4; share /= 2) {
      next = Float64Array.from(w)
      free.forEach((j, i) => {
        next[j] -= share * step[i]
      })
      if (lossOf(rows, columns, next) <= loss + 1e-9) break
    }
    w.set(next)
    loss = lossOf(rows, columns, w)
    if (share * Math.max(...step.map(Math.abs)) >= SMALL) continue
    // at rest: a held weight is let go, once, when the data pull it to its own side
    const pulled = [...held].filter((j) => !letGo.has(j) && -gradient[j] * columns[j].sign > SMALL)
    if (pulled.length === 0) break
    for (const j of pulled) {
      held.delete(j)
      letGo.add(j)
    }
  }
  return [...w]
}

const sumOf = ({ at, size }, w) => {
  let sum = 0
  for (let a = 0; a < at.length; a++) sum += w[at[a]] * size[a]
  return sum
}

function lossOf(rows, columns, w) {
  let loss = 0
  for (const row of rows) {
    const sum = row.y ? -sumOf(row, w) : sumOf(row, w)
    loss += sum > 30 ? sum : Math.log1p(Math.exp(sum))
  }
  columns.forEach(({ shrink, prior = 0 }, j) => {
    loss += (shrink / 2) * (w[j] - prior) ** 2
  })
  return loss
}

/** The gradient of the loss, and the lower triangle of its second derivatives. */
function derivatives(rows, columns, w) {
  const n = columns.length
  const gradient = new Float64Array(n)
  const hessian = Array.from({ length: n }, (_, j) => new Float64Array(j + 1))
  for (const row of rows) {
    const { at, size, y } = row
    const p = sigmoid(sumOf(row, w))
    const bend = Math.max(1e-6, p * (1 - p))
    for (let a = 0; a < at.length; a++) {
      gradient[at[a]] += (p - y) * size[a]
      const line = hessian[at[a]]
      const part = bend * size[a]
      for (let b = 0; b <= a; b++) line[at[b]] += part * size[b]
    }
  }
  columns.forEach(({ shrink, prior = 0 }, j) => {
    gradient[j] += shrink * (w[j] - prior)
    hessian[j][j] += shrink + 1e-9
  })
  return { gradient, hessian }
}
