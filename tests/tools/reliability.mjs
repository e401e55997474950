// Figures on probabilities: rows are { p: stated probability, y: 1 when right, 0 when wrong }.

const mean = (list, of) => list.reduce((sum, x) => sum + of(x), 0) / (list.length || 1)

/** Brier 1950: the mean squared distance of what was stated from what came true. */
export const brier = (rows) => mean(rows, ({ p, y }) => (p - y) ** 2)

export const logLoss = (rows) => mean(rows, ({ p, y }) => -Math.log(Math.max(1e-12, y ? p : 1 - p)))

/** The chance that a right reading is stated higher than a wrong one; ties count half. */
export function auc(rows) {
  const sorted = [...rows].sort((a, b) => a.p - b.p)
  let wrongBelow = 0
  let wins = 0
  for (let i = 0; i < sorted.length; ) {
    let j = i
    while (j < sorted.length && sorted[j].p === sorted[i].p) j++
    const right = sorted.slice(i, j).filter(({ y }) => y).length
    const wrong = j - i - right
    wins += right * (wrongBelow + wrong / 2)
    wrongBelow += wrong
    i = j
  }
  return wins / (wrongBelow * (rows.length - wrongBelow) || 1)
}

/** Ten equal bins: how many, what was stated, what was right. */
export function reliability(rows) {
  return Array.from({ length: 10 }, (_, bin) => {
    const inside = rows.filter(({ p }) => Math.min(9, Math.floor(p * 10)) === bin)
    return {
      from: bin / 10,
      to: (bin + 1) / 10,
      count: inside.length,
      stated: mean(inside, ({ p }) => p),
      right: mean(inside, ({ y }) => y),
    }
  })
}

/** Expected calibration error over those bins. */
export const calibrationError = (rows) =>
  reliability(rows).reduce(
    (sum, { count, stated, right }) => sum + (count / (rows.length || 1)) * Math.abs(stated - right),
    0,
  )

/** The lowest cut at which at most `share` of the readings from it up are wrong. */
export function cutFor(rows, share) {
  const sorted = [...rows].sort((a, b) => b.p - a.p)
  let wrong = 0
  let cut = 1
  sorted.forEach(({ p, y }, i) => {
    if (!y) wrong++
    // readings with the same probability stand or fall together
    if (sorted[i + 1]?.p !== p && wrong / (i + 1) <= share) cut = p
  })
  return cut
}

/** The share of wrong readings among the surest `part` of all. */
export function riskAt(rows, part) {
  const surest = [...rows].sort((a, b) => b.p - a.p).slice(0, Math.round(rows.length * part))
  return mean(surest, ({ y }) => 1 - y)
}

export function flagging(rows, isSure) {
  const sure = rows.filter(isSure)
  const wrong = rows.filter(({ y }) => !y)
  return {
    sureButWrong: mean(sure, ({ y }) => 1 - y),
    caught: mean(wrong, (row) => (isSure(row) ? 0 : 1)),
    toReview: 1 - sure.length / (rows.length || 1),
  }
}
