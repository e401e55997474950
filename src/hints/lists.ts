import type { Vocabulary } from './vocabulary.ts'

/**
 * The narrowest documented limits of engines that take lists, so that one list serves all:
 * 500 entries of at most 100 characters (Twilio, error 13330: hints of Gather; 100 characters a phrase, too, in the
 * quotas of Google Cloud Speech-to-Text), at most 6 words a phrase (AssemblyAI, keyterms prompting).
 */
export const LIST_LIMITS = { entries: 500, characters: 100, words: 6 } as const

/**
 * Whisper keeps at most half its text context, 224 tokens, of a prompt (whisper.cpp `--prompt`: "max n_text_ctx/2 tokens",
 * 448 / 2) and of these the last. Trade words take about three characters a token, hence 600 characters.
 */
export const PROMPT_LIMIT = 600

/** One phrase a line: names of the yard, then the trade's. */
export function phraseList({ names, phrases }: Vocabulary): string {
  return listed([...names, ...phrases])
}

/** One word a line, those that an everyday vocabulary lacks first. */
export function wordList({ names, words }: Vocabulary): string {
  return listed([...names.flatMap((name) => name.split(/\s+/)), ...words])
}

function listed(entries: readonly string[]): string {
  const { characters, words, entries: most } = LIST_LIMITS
  const seen = new Set<string>()
  const out: string[] = []
  for (const entry of entries) {
    const line = entry.replace(/\s+/g, ' ').trim()
    const key = line.toLowerCase()
    if (line === '' || line.length > characters || line.split(' ').length > words || seen.has(key)) continue
    seen.add(key)
    out.push(line)
    if (out.length === most) break
  }
  return `${out.join('\n')}\n`
}

/** A prompt in the style of a note; the names stand last, because an engine that shortens keeps the end. */
export function prompt({ names, words }: Vocabulary): string {
  const tail = names.length > 0 ? ` Names: ${names.join(', ')}.` : ''
  const head = 'Notes from a hive inspection, beekeeping. Hive two, queen seen, four frames of brood. Words: '
  const end = tail.length > PROMPT_LIMIT / 2 ? `${tail.slice(0, PROMPT_LIMIT / 2).replace(/,[^,]*$/, '')}.` : tail
  let list = ''
  for (const word of words) {
    const longer = list === '' ? word : `${list}, ${word}`
    if (head.length + longer.length + 1 + end.length > PROMPT_LIMIT) break
    list = longer
  }
  return `${head}${list}.${end}\n`
}
