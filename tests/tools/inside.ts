/** What the development tools see of the inside. */
import { english } from '../../src/grammar/english.ts'
import { utterancesOf } from '../../src/read.ts'
import { findMentions } from '../../src/reading/find.ts'
import { openTranscript } from '../../src/transcript/open.ts'

export { correctionsFrom, movedFrom, stretchAt, wholeLookMoved } from '../../src/corrections/answer.ts'
export { applyCorrections } from '../../src/corrections/apply.ts'
export { stamped } from '../../src/corrections/correction.ts'
export { questionsFor } from '../../src/corrections/questions.ts'
export { english, englishVocabulary } from '../../src/grammar/english.ts'
export { weighedWords } from '../../src/language/borders.ts'
export { TUNE } from '../../src/language/mend.ts'
export { soundCodes, soundDistance } from '../../src/language/sound-distance.ts'
export { soundsByRule } from '../../src/language/sounds.ts'
export { hearStrange, newStrangeness } from '../../src/language/strange.ts'
export { usageToken, usageTokens } from '../../src/language/usage.ts'
export { splitUtterances } from '../../src/language/utterances.ts'
export { readNote } from '../../src/read-note.ts'
export { flatten, placedReadings } from '../../src/record/schema.ts'
export { openTranscript } from '../../src/transcript/open.ts'

/** Utterance by utterance: words with their borders, mentions with their grammar lines and standing. */
export function trace(text: string, _date: string): string[] {
  const out: string[] = []
  const grammar = english()
  for (const utterance of utterancesOf(openTranscript(text, 'say'), grammar)) {
    out.push(
      `— ${utterance.words.map((w) => `${['', '¦', ',', '‖'][w.brk]}${w.filler ? `(${w.norm})` : w.norm}`).join(' ')}${utterance.words[utterance.words.length - 1]!.mark}`,
    )
    for (const m of findMentions(utterance, grammar, { hives: new Map(), yards: new Map(), known: new Set() })
      .mentions) {
      out.push(
        `    ${text.slice(m.start, m.end).padEnd(28)} ${m.meanings.map((x) => x.entry.id).join(' ')}  ${[...new Set(m.standing.map((c) => `${c.kind}(${c.by})`))].join(' ')}`,
      )
    }
  }
  return out
}
