// Logistic regression with shrinkage towards a prior and with forced signs: Newton's method on sparse rows.
import { CholeskyDecomposition, Matrix } from 'ml-matrix'

export const sigmoid = (x) => 1 / (1 + Math.exp(-x))

/**
 * Fits P(right) = sigmoid(base + Σ weight · size).
 * rows: [{ at: columns in rising order, size: sizes, y: 0|1, weight? }]; columns: [{ name, shrink, prior?, sign? }], where `shrink` is
 * the strength of the pull towards `prior` (0 when left out) and `sign` is -1 or +1 for a weight that may not turn.
 * Column 0 is the base. Gives the weights in the order of the columns.
 */
export function fitLogistic(rows, columns, { rounds = 30, start } = {}) {
  const n = columns.length
  const prior = columns.map((c) => c.prior ?? 0)
  const w = Float64Array.from(start ?? prior)
  const held = new Set()
  for (let round = 0; round < rounds; round++) {
    const gradient = new Float64Array(n)
    const hessian = Array.from({ length: n }, () => new Float64Array(n))
    for (const { at, size, y, weight = 1 } of rows) {
      let sum = 0
      for (let a = 0; a < at.length; a++) sum += w[at[a]] * size[a]
      const p = sigmoid(sum)
      const slope = weight * (p - y)
      const bend = weight * Math.max(1e-6, p * (1 - p))
      for (let a = 0; a < at.length; a++) {
        gradient[at[a]] += slope * size[a]
        const row = hessian[at[a]]
        const part = bend * size[a]
        // columns of a row stand in rising order: the lower triangle is enough
        for (let b = 0; b <= a; b++) row[at[b]] += part * size[b]
      }
    }
    columns.forEach(({ shrink }, j) => {
      gradient[j] += shrink * (w[j] - prior[j])
      hessian[j][j] += shrink + 1e-9
    })
    // a weight held at zero is let go when the data would move it to its own side
    for (const j of [...held]) if (-gradient[j] * columns[j].sign > 1e-9) held.delete(j)
    const free = columns.map((_, j) => j).filter((j) => !held.has(j))
    const left = new Matrix(free.map((j) => free.map((k) => hessian[Math.max(j, k)][Math.min(j, k)])))
    const step = new CholeskyDecomposition(left).solve(Matrix.columnVector(free.map((j) => gradient[j]))).to1DArray()
    let most = 0
    free.forEach((j, i) => {
      const to = w[j] - step[i]
      const crosses = columns[j].sign !== undefined && to * columns[j].sign < 0
      most = Math.max(most, Math.abs(w[j] - (crosses ? 0 : to)))
      w[j] = crosses ? 0 : to
      if (crosses) held.add(j)
    })
    if (most < 1e-3) break
  }
  return [...w]
}
