const scripts = [
  'Latin',
  'Cyrillic',
  'Greek',
  'Han',
  'Hiragana',
  'Katakana',
  'Hangul',
  'Arabic',
  'Hebrew',
  'Thai',
  'Devanagari',
] as const
type Script = (typeof scripts)[number]

const tests = scripts.map((script) => [script, new RegExp(`\\p{Script=${script}}`, 'gu')] as const)

/** The script that most letters of the text belong to; undefined without letters. */
export function scriptOf(text: string): Script | undefined {
  const sample = text.slice(0, 2000)
  if (!/[^\p{ASCII}]/u.test(sample)) return /[a-z]/i.test(sample) ? 'Latin' : undefined
  let best: Script | undefined
  let most = 0
  for (const [script, test] of tests) {
    const count = sample.match(test)?.length ?? 0
    if (count > most) [best, most] = [script, count]
  }
  return best
}
