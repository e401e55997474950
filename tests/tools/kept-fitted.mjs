// The command's stand-in for src/fitted/fitted.ts (put there by keep-learned.mjs).
import { readFileSync } from 'node:fs'
import { readerBy } from '../../src/clauses/reader.ts'
import { callNetBy } from '../../src/hives/call-net.ts'
import { commonWords } from '../../src/hives/common-words.ts'
import { together } from '../../src/hives/cue-net.ts'
import { readAmount } from '../../src/language/amounts.ts'
import { borderReaderBy } from '../../src/language/border-net.ts'
import { nameReaderBy } from '../../src/language/name-net.ts'
import { unpackLearned } from './kept-learned.mjs'

let known

export function fitted() {
  if (!known) {
    // The build puts this part of the command one folder below the file.
    const { borders, named, senses, calls, cues, worth, inNet, net, words } = unpackLearned(
      readFileSync(new URL('../learned.bin', import.meta.url)),
    )
    known = {
      borders: borderReaderBy(borders),
      names: nameReaderBy(named),
      clauses: readerBy(senses, readAmount),
      hives: {
        weights: weightsOf(cues.split('\n'), worth),
        together: together({ ...net, cues: rowsOf(inNet.split('\n')) }),
        callNet: callNetBy(calls),
        words: commonWords(words),
      },
    }
  }
  return known
}

const rowsOf = (names) => new Map(names.map((name, i) => [name, i]))

function weightsOf(cues, worth) {
  const ways = worth.length / cues.length
  return new Map(cues.map((cue, i) => [cue, worth.subarray(i * ways, (i + 1) * ways)]))
}
