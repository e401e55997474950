import type { Entry, EntryIndex, Grammar } from '../grammar/grammar.ts'
import { matchPattern } from '../grammar/match.ts'
import { forget } from '../grammar/present.ts'
import { touched } from '../grammar/touch.ts'
import type { Segment, Transcript } from '../transcript/transcript.ts'
import { attachAlternatives } from './alternatives.ts'
import { type BorderReader, learnedBreaks } from './borders.ts'
import { cutAtCalls, unmarked } from './calls.ts'
import { classesOf } from './classes.ts'
import { mendWords } from './mend.ts'
import { markNames, type NameReader } from './named.ts'
import { repairWords } from './repairs.ts'
import { takeSpokenMarks } from './spoken-marks.ts'
import { Break, type Utterance, type Word } from './word.ts'
import { splitWords } from './words.ts'

/** Formats in which a segment ends where the speaker paused; in all others but plain text, cuts only wrap the speech. */
const BY_PAUSE =
  /^(vosk|kaldi|deepgram|google|aws|azure|watson|assemblyai|web-speech|android|apple|nlsml|pocketsphinx|speechmatics|revai|stm|trn|ctm)/
/** Formats in which a line break may end a sentence. */
const BY_LINE = /^(plain|stamped|openai-text|otranscribe)/

/** A full stop behind one of these was put there by a breath, not by a sentence. */
const NEVER_LAST = new Set([
  'of',
  'a',
  'an',
  'the',
  'with',
  'and',
  'than',
  'my',
  'your',
  'their',
  'our',
  'from',
  'into',
  'by',
])
/** The same, for engines that put stops at breaths throughout. */
const SELDOM_LAST = new Set([
  'in',
  'is',
  'are',
  "'s",
  'at',
  'as',
  'for',
  'to',
  'till',
  'until',
  'has',
  'have',
  'or',
  'still',
  'like',
  'was',
  "'d",
  'will',
  'am',
  'on',
  'be',
  'not',
  'maybe',
])
const UNIT = new Set([
  'frames',
  'frame',
  'combs',
  'seams',
  'boxes',
  'supers',
  'mites',
  'beetles',
  'percent',
  'litres',
  'kilos',
  'pounds',
  'cells',
  'cups',
  'strips',
])
/** After these the next words belong to the same clause, whatever they look like. */
const OPEN_ENDED = new Set([
  'that',
  'what',
  'if',
  'when',
  'because',
  'where',
  'who',
  'which',
  'than',
  'as',
  'like',
  'how',
  'while',
  'unless',
  'until',
  'till',
  'before',
  'after',
  'since',
  'think',
  'reckon',
  'say',
  'said',
  'know',
  'see',
  'believe',
  'and',
  'but',
  'so',
  'or',
  'though',
  'cos',
  "'d",
  'of',
  'on',
  'in',
  'to',
  'with',
  'for',
  'by',
  'from',
  'the',
  'a',
  'way',
  'into',
  'onto',
  'at',
  'under',
  'between',
  'my',
])

/** "did they", "can i": a question, not a new clause. */
const SUBJECT = new Set(['i', 'she', 'they', 'we', 'he', 'it', 'you', 'there', 'that', 'this', 'these'])
const AUXILIARY = new Set([
  'did',
  'do',
  'does',
  'have',
  'has',
  'had',
  'is',
  'are',
  'was',
  'were',
  'can',
  'could',
  'will',
  'would',
  'should',
  'must',
  'might',
  'am',
  "'s",
])

/** How many words a run without any mark may have before it is cut at the next clause. */
const RUN = 10

/**
 * Transcript to utterances: words with repaired mishearings, hesitations marked, wrong full stops healed and clause
 * borders put in where the engine wrote none. By what was `learned` of borders and names, where it is there already. Linear in the
 * length of the text.
 */
export function splitUtterances(
  transcript: Transcript,
  grammar: Grammar,
  learned: { readonly borders: BorderReader; readonly names: NameReader } | null,
): Utterance[] {
  // what was heard live was read utterance by utterance, and is so again
  if (transcript.format === 'heard' && transcript.segments.length > 1)
    return oneByOne(transcript).flatMap((one) => splitUtterances(one, grammar, learned))
  const words = takeSpokenMarks(allWords(transcript))
  attachTimes(words, transcript)
  attachAlternatives(words, transcript)
  markFillers(words, grammar.fillers)
  repairWords(words, grammar)
  mendWords(words, grammar)
  forget(words)
  healStops(words)
  if (learned && unmarked(words)) learnedBreaks(words, learned.borders)
  if (learned) markNames(words, learned.names)
  inferBreaks(words, grammar.starters)
  cutAtCalls(words)
  return cutUtterances(words, transcript.segments, transcript.text)
}

/** A transcript for each segment, with its own words; offsets stay those of the whole. */
function oneByOne(transcript: Transcript): Transcript[] {
  const { words = [] } = transcript
  let w = 0
  return transcript.segments.map((segment) => {
    while (w < words.length && words[w]!.start < segment.start) w++
    const from = w
    while (w < words.length && words[w]!.start < segment.end) w++
    return { ...transcript, segments: [segment], words: words.slice(from, w) }
  })
}

function allWords(transcript: Transcript): Word[] {
  const out: Word[] = []
  const byPause = BY_PAUSE.test(transcript.format)
  const wraps = !BY_LINE.test(transcript.format) || linesOnlyWrap(transcript.text)
  let previous: Segment | undefined
  for (const segment of transcript.segments) {
    const words = splitWords(transcript.text, segment.start, segment.end, { linesWrap: wraps })
    const first = words[0]
    if (first) {
      const last = out[out.length - 1]
      const between = previous === undefined ? '' : transcript.text.slice(previous.end, segment.start)
      const turn = previous !== undefined && (previous.speaker !== segment.speaker || /[-–—]/.test(between))
      const suspect = (previous?.suspect ?? null) !== (segment.suspect ?? null)
      if (last && !turn && !suspect) {
        const marked = last.mark === '.' || last.mark === '?' || last.mark === '!'
        first.brk = marked || !wraps ? Break.hard : byPause || last.mark !== '' ? Break.soft : Break.none
      }
      for (const word of words) out.push(word)
    }
    previous = segment
  }
  return out
}

/** Text that was hard-wrapped at a width, not dictated line by line: long lines of like length. */
function linesOnlyWrap(text: string): boolean {
  const lines = text
    .slice(0, 20_000)
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
  if (lines.length < 4) return false
  const inner = lines.slice(0, -1)
  const long = inner.filter((line) => line.length >= 55 && line.length <= 100)
  const open = inner.filter((line) => !/[.!?…:"]\s*$/.test(line))
  return long.length >= inner.length * 0.8 && open.length >= inner.length * 0.4
}

function attachTimes(words: Word[], transcript: Transcript): void {
  const timed = transcript.words
  let t = 0
  let s = 0
  for (const word of words) {
    if (timed) {
      while (t < timed.length && timed[t]!.end <= word.start) t++
      const hit = timed[t]
      if (hit && hit.start < word.end) {
        if (hit.at !== undefined) word.at = hit.at
        if (hit.confidence !== undefined) word.confidence = hit.confidence
        if (hit.alternatives !== undefined) word.alternatives = hit.alternatives
      }
    }
    if (word.at === undefined) {
      while (s < transcript.segments.length && transcript.segments[s]!.end <= word.start) s++
      const segment = transcript.segments[s]
      if (segment?.at !== undefined) {
        const share = (word.start - segment.start) / Math.max(1, segment.end - segment.start)
        word.at =
          segment.until === undefined
            ? segment.at
            : Math.round((segment.at + share * (segment.until - segment.at)) * 100) / 100
      }
    }
  }
}

/** The first entry of an index that matches at word `i`, with its end. */
export function firstMatch(
  index: EntryIndex,
  words: readonly Word[],
  i: number,
): { entry: Entry; end: number } | undefined {
  const entries = index.byWord.get(words[i]!.norm)
  if (!entries) return undefined
  const lookup = classesOf(words)
  let best: { entry: Entry; end: number } | undefined
  for (const entry of entries) {
    const match = matchPattern(entry.pattern, words, i, lookup)
    if (match && (!best || match.end > best.end) && !touched(entry, words, i, match.end, lookup))
      best = { entry, end: match.end }
  }
  return best
}

function markFillers(words: Word[], fillers: EntryIndex): void {
  for (let i = 0; i < words.length; i++) {
    const hit = firstMatch(fillers, words, i)
    if (!hit) continue
    const { entry, end } = hit
    if (entry.line.before && !(words[end] && entry.before && matchPattern(entry.before, words, end, classesOf(words))))
      continue
    for (let j = i; j < end; j++) words[j]!.filler = true
    i = end - 1
  }
}

const NUMBER = /^\d+$|^(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|half)$/

function healStops(words: Word[]): void {
  let breaths = 0
  for (let i = 1; i < words.length; i++)
    if (words[i]!.brk === Break.hard && words[i - 1]!.mark === '.' && NEVER_LAST.has(words[i - 1]!.norm)) breaths++
  const byBreath = breaths >= 2
  for (let i = 1; i < words.length; i++) {
    const word = words[i]!
    const before = words[i - 1]!
    // what lies further apart is another speaker's turn or another caption
    if (word.brk !== Break.hard || before.mark !== '.' || word.start - before.end > 3) continue
    const number = NUMBER.test(before.norm)
    const calls =
      byBreath &&
      ((/^(number|hive|nuc|colony|frame)$/.test(before.norm) &&
        NUMBER.test(word.norm) &&
        !UNIT.has(words[i + 1]?.norm ?? '')) ||
        (/^(first|second|third|fourth|fifth|hand|left)$/.test(before.norm) &&
          /^(hive|frame|one|nuc|hand)$/.test(word.norm)))
    if (
      (NEVER_LAST.has(before.norm) && !/^[A-Z]$/.test(before.said)) ||
      calls ||
      (byBreath && SELDOM_LAST.has(before.norm) && !aloneNumber(words, i)) ||
      (number &&
        UNIT.has(word.norm) &&
        (/^\p{Ll}/u.test(word.said) ||
          (/^(frames?|combs|seams|percent)$/.test(word.norm) &&
            !(
              words[i + 1]?.norm === 'of' && words.slice(Math.max(0, i - 6), i - 1).some((w) => w.norm === word.norm)
            )))) ||
      (number && word.norm === 'and' && words[i + 1]?.norm === 'a' && words[i + 2]?.norm === 'half')
    ) {
      word.brk = Break.none
      before.mark = ''
    }
  }
}

/** A number between two stops calls the next hive or frame, whatever stands before. */
const aloneNumber = (words: readonly Word[], i: number): boolean =>
  /^\d+$|^(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)$/.test(words[i]!.norm) &&
  words[i]!.mark === '.'

function inferBreaks(words: Word[], starters: EntryIndex): void {
  for (let i = 1; i < words.length; i++) {
    const word = words[i]!
    if (word.brk >= Break.soft) continue
    const before = words[i - 1]!.norm
    // "did you see the queen no", "any chalk no they are clean": said before a pause, a new clause or the end, it answers
    const next = words[i + 1]
    const opens = next === undefined || next.brk > Break.none || SUBJECT.has(next.norm)
    if (opens && ANSWER.test(word.norm) && asks(words, i)) {
      word.brk = Break.hard
      if (next) next.brk = Break.hard
      continue
    }
    if (word.brk !== Break.none) continue
    if (opens && word.norm === 'no' && before !== 'oh') {
      word.brk = Break.inferred
      continue
    }
    if (OPEN_ENDED.has(before)) continue
    if (SUBJECT.has(word.norm) && AUXILIARY.has(before)) continue
    const hit = firstMatch(starters, words, i)
    if (!hit) continue
    if (hit.entry.after && !matchPattern(hit.entry.after, words, i - 1, classesOf(words))) continue
    word.brk = Break.inferred
  }
}

const ANSWER = /^(no|nope|nah|yes|yep|yeah|none)$/
const ASKS = /^(any|how|where|which|who|what)$/
const ASKED = /^(any|anybody|anyone|either|the)$/

/** Whether the clause before a word asks: "did we find her", "any beetles in there", "have they got eggs". */
function asks(words: readonly Word[], to: number): boolean {
  let from = to - 1
  while (from > 0 && words[from]!.brk === Break.none && to - from < 10) from--
  while (from < to - 1 && (words[from]!.filler || /^(and|so|right|okay)$/.test(words[from]!.norm))) from++
  const second = words[from + 1]?.norm ?? ''
  const first = words[from]!.norm
  return from < to - 1 && (ASKS.test(first) || (AUXILIARY.has(first) && (SUBJECT.has(second) || ASKED.test(second))))
}

function cutUtterances(words: Word[], segments: readonly Segment[], text: string): Utterance[] {
  const out: Utterance[] = []
  let from = 0
  let s = 0
  const close = (to: number): void => {
    if (to <= from) return
    const run = words.slice(from, to)
    const start = run[0]!.start
    while (s + 1 < segments.length && segments[s]!.end <= start) s++
    const segment = segments[s]
    const speaker = segment?.speaker ?? null
    // where two talk each turn stands by itself, whatever it is about
    const paragraph =
      from > 0 &&
      out[out.length - 1]!.speaker === speaker &&
      /\n\s*\n|\bnew paragraph\b/i.test(text.slice(words[from - 1]!.end, start))
    out.push({
      paragraph,
      start,
      end: run[run.length - 1]!.end,
      words: run,
      at: run[0]!.at ?? null,
      speaker,
      suspect: segment?.suspect ?? null,
    })
    from = to
  }
  for (let i = 1; i < words.length; i++) {
    const brk = words[i]!.brk
    if (brk === Break.hard) close(i)
    else if (brk === Break.inferred && i - from >= RUN && noMark(words, from, i)) close(i)
    else if (brk === Break.soft && i - from >= RUN * 2 && words[i]!.mark !== '…') close(i)
    else if (i - from >= 400) close(i)
  }
  close(words.length)
  return out
}

function noMark(words: readonly Word[], from: number, to: number): boolean {
  for (let i = from + 1; i < to; i++) if (words[i]!.brk === Break.soft) return to - from >= RUN * 2
  return true
}
