import { jsgf, rulesOf, srgs } from '../../hints/grammars.ts'
import { phraseList, prompt, wordList } from '../../hints/lists.ts'
import { vocabularyOf } from '../../hints/vocabulary.ts'
import { readBytes, readYard } from '../files.ts'
import { noFiles, oneOf, readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'

const forms = ['phrases', 'words', 'prompt', 'jsgf', 'srgs'] as const

/** `combscribe hints`: the vocabulary for a recogniser, in the form that it takes. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('hints', args, {
    as: { type: 'string', default: 'phrases' },
    yard: { type: 'string' },
    dictionary: { type: 'string' },
  })
  noFiles('hints', positionals)
  const as = oneOf('hints', 'as', values.as, forms)
  const isGrammar = as === 'jsgf' || as === 'srgs'
  if (values.dictionary !== undefined && !isGrammar) throw usage('hints', '--dictionary goes with --as jsgf or srgs')
  const yard = await readYard(values.yard, terminal)
  const vocabulary = vocabularyOf(yard)
  if (!isGrammar) {
    const form = { phrases: phraseList, words: wordList, prompt }[as]
    terminal.out(form(vocabulary))
    return 0
  }
  const known = values.dictionary === undefined ? undefined : wordsOf(await readBytes(values.dictionary, terminal))
  const { rules, unknown } = rulesOf(vocabulary, known)
  terminal.out((as === 'jsgf' ? jsgf : srgs)(rules))
  if (unknown.length > 0)
    terminal.err(`combscribe: left out, because the dictionary lacks them: ${unknown.sort().join(', ')}.\n`)
  return 0
}

/** The words of a pronouncing dictionary: a word, space, its phonemes; `word(2)` for a second pronunciation. */
function wordsOf(bytes: Uint8Array): Set<string> {
  const lines = new TextDecoder().decode(bytes).split('\n')
  return new Set(lines.map((line) => (/^[^\s(]+/.exec(line)?.[0] ?? '').toLowerCase()).filter(Boolean))
}
