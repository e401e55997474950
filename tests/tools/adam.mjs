// Steps of stochastic gradients whose size each weight sets for itself (Adam, Kingma & Ba 2015).

/** What the running means of gradients and of their squares keep, and what they take in. */
const [FIRST, TO_FIRST] = [0.9, 0.1]
const [SECOND, TO_SECOND] = [0.999, 0.001]

/**
 * Moves the lists of numbers of a net. `gradient` has a list for each, to be added to; a step uses it up. Of the list `rows` only
 * those rows of `width` numbers move that were `touched` since the last step. `pull` draws every weight that moves towards none.
 */
export function createAdam(net, { rows, width, pull = 0 }) {
  const names = Object.keys(net)
  const like = () => Object.fromEntries(names.map((name) => [name, new Float32Array(net[name].length)]))
  const [gradient, first, second] = [like(), like(), like()]
  const touched = new Set()
  let done = 0
  const move = (name, from, to, rate) => {
    const [list, g, ms, vs] = [net[name], gradient[name], first[name], second[name]]
    for (let i = from; i < to; i++) {
      const d = g[i] + pull * list[i]
      const m = FIRST * ms[i] + TO_FIRST * d
      const v = SECOND * vs[i] + TO_SECOND * d * d
      ms[i] = m
      vs[i] = v
      list[i] -= (rate * m) / (Math.sqrt(v) + 1e-8)
      g[i] = 0
    }
  }
  return {
    gradient,
    touched,
    step(rate) {
      done++
      const sized = (rate * Math.sqrt(1 - SECOND ** done)) / (1 - FIRST ** done)
      for (const name of names) if (name !== rows) move(name, 0, net[name].length, sized)
      for (const row of touched) move(rows, row * width, (row + 1) * width, sized)
      touched.clear()
    },
  }
}
