/**
 * What a keeper says to the program and not of the bees. A question is no speech of the visit and never becomes a reading; an
 * edit or a move is heard by the reader like any other words, and is only known for what it is.
 */
export type Command =
  /** What the rules still lack for the hive in hand. */
  | { readonly kind: 'lacking' }
  /** What was said of the hive in hand; `about` is what is asked for, as spoken, without its article. */
  | { readonly kind: 'readBack'; readonly about?: string }
  /** The last answer once more. */
  | { readonly kind: 'again' }
  | { readonly kind: 'where' }
  | { readonly kind: 'due' }
  | { readonly kind: 'advise' }
  | { readonly kind: 'scratch' }
  | { readonly kind: 'next' }
  | { readonly kind: 'close' }
  /** The visit is over. */
  | { readonly kind: 'finish' }

/** Questions are answered and not heard; edits and moves are heard too. */
export const isQuestion = ({ kind }: Command): boolean => !/^(scratch|next|close)$/.test(kind)

/**
 * The wordings, as in the grammar: `a/b` one of two words, `( … / … )` one of several phrases, `?` behind what may be left
 * out; `<here>` points at the hive in hand, `<about>` is anything that says what it is about. Contractions are spelled out.
 */
const wordings: Readonly<Record<Command['kind'], readonly string[]>> = {
  lacking: [
    'what is still/else? (missing / lacking / outstanding / needed / left / left to say / left to check / to say / to check) <here>?',
    '(is there)? anything/something else? (I (have)? (missed / miss / forgotten / forgot / not said / left out)) <here>?',
    '(is there)? anything/something still? (missing / lacking / left to say / left out) <here>?',
    '(is there)? anything/something else? you still? need/want/wanted (to know / to hear / from me)? <here>?',
    '(is there)? anything/something else? (I should / to) say/check/mention/tell <here>?',
    'what else? have/did I not? (missed / miss / forgotten / forget / forgot / said / say / left out / mentioned / mention / told you / tell you) <here>?',
    'have/did I (missed / miss / forgotten / forget / left out) anything/something <here>?',
    'what else? do you still/else? (need / want / need to know / want to know) (from me)? <here>?',
    'what else? should/must I still? (say / check / mention / tell you / look for) <here>?',
    'do I need/have to (say / check / mention / tell you) anything else? <here>?',
    '(run / do / read)? (me)? (the / my)? (checklist / check list / hive check)',
  ],
  readBack: [
    'what did/have I (say / said / tell you / told you / note / noted / report / record / recorded) about/of/on/for <about>',
    'what (do you have / have you got / have you heard / did you hear / have you written down / have you noted / have you) (down)? about/of/on/for <about>',
    'did/have I already? (say / said / mention / mentioned / tell you / told you / note / noted / report) (about / of / whether / if / anything about / something about)? (there were / there was / there are / there is / I saw / I had / I found / saw / seeing)? <about>',
    'how many/much <about> did/have I (say / said / tell you / told you / count / counted / note / noted) (there were / there was / I had / I saw / it had)?',
    'read/say (me)? (back)? what I said about/of/on <about>',
    'read/say/play (it / that / this / them / everything / all of it / the hive / the lot / this hive / that hive / this one) back (to me)?',
    'read/say/play (me)? back (it all / everything / all of it / this hive / the hive / what you have / what you have got / what I said / what I have / the lot) (to me)?',
    'what (have you (got / heard / noted / written down / understood / got down) / do you have / have I got / have I said / did I say) <here>?',
  ],
  again: [
    'repeat/say (that / it / the last one / the last bit) (again / once more)?',
    'say/come again',
    'I did not catch/hear/get that',
    'what (was that / did you say)',
    'pardon',
  ],
  where: [
    'where are/am/were/was I (up to)?',
    'which/what hive/one/box/frame/side are/am I (on / at / in)',
    'which/what hive/box/frame/side is this/it',
  ],
  due: [
    'what is next? (due / to be done / coming up / on the list) (this week / next / soon / next week)? <here>?',
    '(is)? (there)? anything due (this week / soon / next week)? <here>?',
    'what are the/my jobs/plans/dates <here>?',
    'what (have I / do I have / do I need / have I got) to do next (time / week)? <here>?',
    'what is next/planned (here / for this hive / for this one / for it / for her)',
    'when should/do I (come back / look again / look in again / check again) here?',
  ],
  advise: [
    'what should/shall/must/do/can/would I (need to)? do next? (here / about it / about this / about this one / about this hive / with it / with this / with this hive / with this one / with them / with her)?',
    'what do/would you (advise / suggest / recommend / think) <here>?',
    'any/what (advice / alarms / warnings / findings) <here>?',
    'what do the rules say <here>?',
    'is this hive/colony (ok / okay / all right / alright / ready)',
  ],
  scratch: [
    'no? scratch/strike/delete/undo/cancel/ignore/disregard/remove/erase/forget (that / the last / what I said / what I just said)',
    'no? scratch/strike/delete/undo/cancel/ignore/disregard/remove/erase/forget (the / that) last one/bit/thing',
    '(I)? take that back',
    'undo',
  ],
  next: [
    '(on / move on / moving on / move / moving / go / going / let us go / over)? (to / onto)? the? next (hive / colony / one / nuc)',
    'next',
  ],
  close: [
    '(I am)? (closing / close / button / buttoning / shut / shutting / wrapping / wrap / putting) (it / her / him / them / this / this one / that / that one / the hive / this hive / everything)? back? (up / together)',
    'that is (it / all) (for this one / for that one / for this hive / here)',
    'that is (this / that) one/hive done',
    'the? (lid / roof / cover) (is)? (going / goes)? back? on',
    '(I am)? done (here / with this one / with this hive)',
  ],
  finish: [
    '(stop / finish / end) (listening / recording / the visit / visit / the note / the notes / the round)',
    'that is (it / all / everything / the lot / the end / me done) (for / of)? (today / now / the day / this yard / the yard / the visit / the round)',
    'I am all? (done / finished) (for today / for the day / with the hives / with all the hives)',
  ],
}

const HERE =
  '(here / (for / on / with / in / at / about / of) (this / the) (hive / one / colony) / for (it / her / them / here))'
/** What may stand before and behind: an address, a courtesy. */
const LEAD =
  /^(?: (?:hey|hi|ok|okay|right|alright|so|and|well|now|um|er|uh|sorry|please|recorder|can you|could you|would you|will you|tell me|just|quickly|wait|hang on|hold on|oh))+(?= )/
const TAIL = /(?: (?:please|then|now|so far|just now|today|mate|thanks|thank you))+$/

const SIGNS: Readonly<Record<string, string>> = { '(': '(?:', ')': ')', '?': '?', '/': '|', '<about>': ' (.+)' }

/** A wording as an expression over words that each have a space before them. */
const toPattern = (wording: string): string =>
  (
    wording
      .replace('<here>', HERE)
      .toLowerCase()
      .match(/<about>|[()?]|[^\s()?]+/g) ?? []
  )
    .map((token) => SIGNS[token] ?? `(?: ${token.replaceAll('/', '| ')})`)
    .join('')

const compiled = Object.entries(wordings).flatMap(([kind, list]) =>
  list.map((wording) => ({ kind: kind as Command['kind'], pattern: new RegExp(`^${toPattern(wording)}$`) })),
)

/** Spelled out, so that a wording need be written once only. */
const CONTRACTIONS: readonly (readonly [RegExp, string])[] = [
  [/\b(what|that|where|which|lid|roof|cover|is)s\b(?<!\bis)/g, '$1 is'],
  [/n't i\b/g, ' i not'],
  [/n't\b/g, ' not'],
  [/\b(have|did|do|is|are)nt\b/g, '$1 not'],
  [/'s\b/g, ' is'],
  [/'ve\b/g, ' have'],
  [/\bive\b/g, 'i have'],
  [/'m\b/g, ' am'],
  [/\bim\b/g, 'i am'],
  [/'re\b/g, ' are'],
  [/\blet is\b/g, 'let us'],
  // one keeper or two: what is asked is the same
  [/\bwe\b/g, 'i'],
  [/\bi are\b/g, 'i am'],
]

/** Words of a question's object that tell nothing. */
const ARTICLES = /^(?:the|a|an|any|her|its|his|their|this|that|my|some|whether|if|about) /
/** The hive as a whole. */
const ALL = /^(?:it|this|that|them|everything|this hive|this one|hive|colony|anything|something)$/
/** With one of these it is a sentence and says something itself: "did I say six frames? no, seven". */
const SAYS_MORE =
  /(?:^| )(?:i|no|not|is|are|was|were|has|had|but|because|so|then|meant|sorry|and|yes|it|they|she)(?: |$)/

/** The command in an utterance, or null: any other words are about the bees. Only whole utterances are commands. */
export function commandIn(words: string): Command | null {
  // what goes on behind a full stop or a question mark is more than a question
  if (words.length > 120 || /[.?!…:;]\s*\S/.test(words.trim())) return null
  let plain = ` ${words
    .toLowerCase()
    .replaceAll('’', "'")
    .replace(/[^\p{L}\p{N}']+/gu, ' ')
    .trim()}`
  for (const [short, long] of CONTRACTIONS) plain = plain.replace(short, long)
  // as said, and without courtesies: "now" can be either
  const bare = plain.replace(LEAD, '').replace(TAIL, '')
  for (const { kind, pattern } of compiled) {
    const match = pattern.exec(bare) ?? pattern.exec(plain)
    if (!match) continue
    if (kind !== 'readBack') return { kind }
    let about = match[1]
    if (about === undefined) return { kind }
    for (let before = ''; before !== about; about = about.replace(ARTICLES, '')) before = about
    if (ALL.test(about)) return { kind }
    if (SAYS_MORE.test(about) || about.split(' ').length > 5) continue
    return { kind, about }
  }
  return null
}
