/** Number words as dictionaries spell them, shared by whatever counts. No prototype: "constructor" is no number. */
type Table = Readonly<Record<string, number>>

const table = (words: readonly string[], from: number, step = 1): Record<string, number> =>
  Object.assign(
    Object.create(null) as Record<string, number>,
    Object.fromEntries(words.map((word, i) => [word, from + i * step])),
  )

export const UNITS: Table = table('one two three four five six seven eight nine'.split(' '), 1)
export const TEENS: Table = table(
  'ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(' '),
  10,
)
export const TENS: Table = table('twenty thirty forty fifty sixty seventy eighty ninety'.split(' '), 20, 10)

export const ORDINALS: Table = Object.assign(
  table(
    'first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth'.split(
      ' ',
    ),
    1,
  ),
  { twentieth: 20, thirtieth: 30 },
)
