// Misheard copies of labelled notes to learn from: with other seeds than those that are measured with.
import { placedChannel } from './noise.mjs'
import { randomFrom } from './random.mjs'

/** Of a copy, at least and at most this share of its words is misheard. */
const RATES = [0.04, 0.2]

/**
 * `copyOf(note, inputs)` gives a note once more, as written or bare, with some of its words misheard: what was heard; and what was
 * `said`, and where each place of it is heard (`at`).
 */
export function misheardCopies(root, rates = RATES, seed = 'learned from') {
  const channel = placedChannel(root)
  return function copyOf(note, { written, bare }) {
    const random = randomFrom(`${seed} ${note}`)
    const asWritten = () => written.segments.map(({ start, end }) => written.text.slice(start, end)).join('\n')
    const said = random() < 0.5 ? asWritten() : bare
    const { heard, at } = channel(said, rates[0] + (rates[1] - rates[0]) * random(), `${seed} ${note}`)
    return [heard, { said, at }]
  }
}
