import actions from '../../grammar/en/actions.json' with { type: 'json' }
import answers from '../../grammar/en/answers.json' with { type: 'json' }
import brood from '../../grammar/en/brood.json' with { type: 'json' }
import cells from '../../grammar/en/cells.json' with { type: 'json' }
import colony from '../../grammar/en/colony.json' with { type: 'json' }
import common from '../../grammar/en/common.json' with { type: 'json' }
import deeds from '../../grammar/en/deeds.json' with { type: 'json' }
import fillers from '../../grammar/en/fillers.json' with { type: 'json' }
import frames from '../../grammar/en/frames.json' with { type: 'json' }
import heard from '../../grammar/en/heard.json' with { type: 'json' }
import hives from '../../grammar/en/hives.json' with { type: 'json' }
import honey from '../../grammar/en/honey.json' with { type: 'json' }
import mishearings from '../../grammar/en/mishearings.json' with { type: 'json' }
import pests from '../../grammar/en/pests.json' with { type: 'json' }
import places from '../../grammar/en/places.json' with { type: 'json' }
import plans from '../../grammar/en/plans.json' with { type: 'json' }
import queen from '../../grammar/en/queen.json' with { type: 'json' }
import signs from '../../grammar/en/signs.json' with { type: 'json' }
import sounds from '../../grammar/en/sounds.json' with { type: 'json' }
import spelling from '../../grammar/en/spelling.json' with { type: 'json' }
import standing from '../../grammar/en/standing.json' with { type: 'json' }
import starters from '../../grammar/en/starters.json' with { type: 'json' }
import talk from '../../grammar/en/talk.json' with { type: 'json' }
import tasks from '../../grammar/en/tasks.json' with { type: 'json' }
import temper from '../../grammar/en/temper.json' with { type: 'json' }
import usage from '../../grammar/en/usage.json' with { type: 'json' }
import weather from '../../grammar/en/weather.json' with { type: 'json' }
import words from '../../grammar/en/words.json' with { type: 'json' }
import { compileGrammar, type Grammar, type GrammarFiles } from './grammar.ts'
import { kept } from './kept.ts'

/** The English grammar as data, file by file. */
export const englishFiles: GrammarFiles = {
  'words.json': words,
  'fillers.json': fillers,
  'spelling.json': spelling,
  'mishearings.json': mishearings,
  'starters.json': starters,
  'standing.json': standing,
  'places.json': places,
  'answers.json': answers,
  'frames.json': frames,
  'honey.json': honey,
  'brood.json': brood,
  'cells.json': cells,
  'queen.json': queen,
  'colony.json': colony,
  'temper.json': temper,
  'pests.json': pests,
  'signs.json': signs,
  'weather.json': weather,
  'actions.json': actions,
  'deeds.json': deeds,
  'tasks.json': tasks,
  'plans.json': plans,
  'talk.json': talk,
  'hives.json': hives,
}

let vocabulary: { common: ReadonlySet<string>; trade: ReadonlySet<string> } | undefined

/** Everyday words (the 5,000 most frequent of SUBTLEXus, film subtitles) and the words of the grammar. */
export function englishVocabulary(): { common: ReadonlySet<string>; trade: ReadonlySet<string> } {
  vocabulary ??= vocabularyOf(english().words)
  return vocabulary
}

function vocabularyOf(all: ReadonlySet<string>): { common: ReadonlySet<string>; trade: ReadonlySet<string> } {
  // plants name hives as often as they name the forage
  const plants = new Set<string>(words.plants)
  return {
    common: new Set(common.flatMap((line) => line.split(' '))),
    trade: new Set([...all].filter((word) => !plants.has(word))),
  }
}

let compiled: Grammar | undefined

/** The compiled English grammar; compiled once, on first use. */
export function english(): Grammar {
  if (!compiled) {
    const grammar = compileGrammar(englishFiles, kept)
    vocabulary ??= vocabularyOf(grammar.words)
    compiled = {
      ...grammar,
      hearing: { data: { ...usage, sounds, heard, meant: kept?.meant }, ...vocabulary },
    }
  }
  return compiled
}
