import { ToWords } from 'to-words'
import { describe, expect, test } from 'vitest'
import { type Amount, readAmount } from '../../src/language/amounts.ts'
import { splitWords } from '../../src/language/words.ts'

/**
 * Spoken numbers against the npm package to-words 5.7.0 (general purpose, all locales): what it writes out must be read
 * back to the last word.
 */
function amountOf(text: string): Amount | undefined {
  const words = splitWords(text, 0, text.length, { linesWrap: false })
  const amount = readAmount(words, 0)
  return amount?.end === words.length ? amount : undefined
}

/** British and Australian speakers put "and" before the tens: the package leaves it out. */
const withAnd = (said: string): string => said.replace(/\b(hundred|thousand) (?=\S+( \S+)?$)(?!\S+ hundred)/, '$1 and ')

const writer = new ToWords({ localeCode: 'en-US' })
const say = (n: number): string => writer.convert(n).toLowerCase()

describe('whole numbers from 0 to 10,000', () => {
  const wrong = (form: (n: number) => string): string[] => {
    const out: string[] = []
    for (let n = 0; n <= 10_000; n++) {
      const said = form(n)
      const amount = amountOf(said)
      if (amount?.lo !== n || amount.hi !== n || amount.kind !== 'integer') out.push(`${said}: ${amount?.lo}`)
    }
    return out
  }
  test('in words', () => expect(wrong(say)).toEqual([]))
  test('in words with "and"', () => expect(wrong((n) => withAnd(say(n)))).toEqual([]))
  test('in words with hyphens', () => {
    expect(
      wrong((n) => say(n).replace(/\b(\w+ty) (one|two|three|four|five|six|seven|eight|nine)\b/g, '$1-$2')),
    ).toEqual([])
  })
  test('in capitals', () => expect(wrong((n) => writer.convert(n))).toEqual([]))
  test('in digits', () => expect(wrong(String)).toEqual([]))
  test('in digits with commas', () => expect(wrong((n) => n.toLocaleString('en-US'))).toEqual([]))
})

test('decimals to one place', () => {
  const wrong: string[] = []
  for (let tenths = 1; tenths < 1000; tenths++) {
    if (tenths % 10 === 0) continue
    const amount = amountOf(say(tenths / 10))
    if (amount?.lo !== tenths / 10 || amount.kind !== 'decimal') wrong.push(`${say(tenths / 10)}: ${amount?.lo}`)
  }
  expect(wrong).toEqual([])
})

test('ordinals from 1st to 31st', () => {
  const wrong: string[] = []
  for (let n = 1; n <= 31; n++) {
    const said = writer.toOrdinal(n).toLowerCase()
    const amount = amountOf(said)
    if (amount?.lo !== n || amount.kind !== 'ordinal') wrong.push(`${said}: ${amount?.lo} ${amount?.kind}`)
  }
  expect(wrong).toEqual([])
})

describe('common fractions', () => {
  const a = (name: string): string => (name === 'eighth' ? 'an eighth' : `a ${name}`)
  // The package writes numerators and the ordinals that denominators are made of; halves and quarters have their own names.
  const names: [number, string][] = [
    [2, 'half'],
    [3, 'third'],
    [4, 'quarter'],
    [4, 'fourth'],
    ...[5, 6, 7, 8, 9, 10].map((n): [number, string] => [n, writer.toOrdinal(n).toLowerCase()]),
  ]
  const proper = names.flatMap(([parts, name]) =>
    Array.from({ length: parts - 1 }, (_, i) => ({ value: (i + 1) / parts, count: i + 1, name })),
  )
  type Say = (part: (typeof proper)[number]) => string
  const counted: Say = ({ count, name }) => `${say(count)} ${name}${count > 1 ? 's' : ''}`
  const articled: Say = (part) => (part.count === 1 ? a(part.name) : counted(part))
  test.each(proper.map((part) => [counted(part), part.value] as const))('%s', (words, value) => {
    const amount = amountOf(words)
    expect(amount?.lo).toBeCloseTo(value, 3)
    expect(amount?.kind).toBe('fraction')
  })

  test.each(proper.filter(({ count }) => count === 1).map(({ name, value }) => [name, value] as const))(
    'a %s',
    (name, value) => {
      expect(amountOf(a(name))?.lo).toBeCloseTo(value, 3)
    },
  )

  const behind = (parts: typeof proper, said: Say): string[] =>
    [1, 2, 5, 10, 12].flatMap((whole) =>
      parts.flatMap((part) =>
        [say(whole), String(whole)].flatMap((count) => {
          const amount = amountOf(`${count} and ${said(part)}`)
          const right = amount && Math.abs(amount.lo - whole - part.value) < 0.001
          return right ? [] : [`${count} and ${said(part)}: ${amount?.lo}`]
        }),
      ),
    )
  const everyday = /^(half|third|quarter)$/
  test('behind a whole number: halves, thirds, quarters', () => {
    expect(
      behind(
        proper.filter(({ name }) => everyday.test(name)),
        articled,
      ),
    ).toEqual([])
  })
  test('behind a whole number: several parts of it', () => {
    expect(
      behind(
        proper.filter(({ count }) => count > 1),
        counted,
      ),
    ).toEqual([])
  })
  // To be mended in amounts.ts: "two and a fourth", "two and an eighth", "two and one half".
  test.fails('behind a whole number: one smaller part', () => {
    expect(
      behind(
        proper.filter(({ name, count }) => !everyday.test(name) && count === 1),
        articled,
      ),
    ).toEqual([])
  })
  test.fails('behind a whole number: one part, counted', () => {
    expect(
      behind(
        proper.filter(({ count }) => count === 1),
        counted,
      ),
    ).toEqual([])
  })

  test('in digits', () => {
    const wrong: string[] = []
    for (let parts = 2; parts <= 10; parts++)
      for (let count = 1; count < parts; count++)
        for (const [words, value] of [
          [`${count}/${parts}`, count / parts],
          [`3 ${count}/${parts}`, 3 + count / parts],
        ] as const) {
          const amount = amountOf(words)
          if (!amount || Math.abs(amount.lo - value) > 0.001) wrong.push(`${words}: ${amount?.lo}`)
        }
    expect(wrong).toEqual([])
  })
})
