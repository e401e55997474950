/** Where hives stand, as they are called by it. */
export const SPOT =
  /^(front|back|rear|left|right|middle|centre|center|end|near|far|top|bottom|inner|outer|corner|north|south|east|west|upper|lower)$/
export const PAINT =
  /^(red|green|blue|yellow|white|black|brown|orange|purple|pink|grey|gray|turquoise|teal|silver|gold|cream|lilac|violet|navy|mint)$/
/** Letters as they are spelled over radio, and Greek ones. */
export const SPELLED =
  /^(alpha|bravo|charlie|delta|echo|foxtrot|golf|hotel|india|juliet|kilo|lima|oscar|papa|romeo|sierra|tango|victor|whiskey|yankee|zulu|beta|gamma|epsilon|omega)$/
export const OWN = /^(mine|ours|yours|hers|theirs)$/

const known = new Map<string, string>()

/** What sort of name a label is: hives of one yard mostly go by one sort. */
export function sortOf(label: string): string {
  let sort = known.get(label)
  if (sort === undefined) {
    const words = label.split(' ')
    sort = /^\d+$/.test(label)
      ? 'number'
      : words[0] === 'nuc'
        ? 'nuc'
        : SPELLED.test(words[0]!) || /\d/.test(label) || label.length === 1
          ? 'code'
          : words.every((word) => PAINT.test(word))
            ? 'paint'
            : words.every((word) => SPOT.test(word))
              ? 'spot'
              : OWN.test(label) || label.endsWith("'s")
                ? 'own'
                : 'word'
    if (known.size > 5000) known.clear()
    known.set(label, sort)
  }
  return sort
}
