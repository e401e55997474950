import { Break, NO_CALL, type Word } from './word.ts'

/**
 * Text to words. Every character of the source is either inside exactly one word or between two words; offsets are
 * computed here once and nowhere else.
 */

const PIECE =
  /(?<![\p{L}\d])(?:[A-Za-z]\d{1,3}|\d{1,3}[A-Ga-g])(?![\p{L}\d'’])|\d+(?:[:/]\d+)+(?!\d)|\d+(?:,\d{3})+(?:\.\d+)?|\d+\.\d+|\.\d+|\d+(?:st|nd|rd|th)\b|\d+|[½¼¾⅓⅔⅛]|[\p{L}\p{M}]+(?:['’][\p{L}]+)*['’]?|['’](?:em|un|s|n|til)\b|[#%°&£$♪]|\.{2,}|[…—–.,;:!?\-()[\]"“”*\n\r]/gu

/** Contractions without their apostrophe, as engines that drop punctuation write them. */
const BARE: Record<string, [string, string]> = {
  __proto__: null as never,
  theres: ['there', "'s"],
  thats: ['that', "'s"],
  whats: ['what', "'s"],
  heres: ['here', "'s"],
  shes: ['she', "'s"],
  hes: ['he', "'s"],
  its: ['it', "'s"],
  ill: ['i', "'ll"],
  id: ['i', "'d"],
  theyd: ['they', "'d"],
  youd: ['you', "'d"],
  lets: ['let', "'s"],
  wheres: ['where', "'s"],
  whos: ['who', "'s"],
  hows: ['how', "'s"],
  im: ['i', "'m"],
  ive: ['i', "'ve"],
  youve: ['you', "'ve"],
  theyve: ['they', "'ve"],
  weve: ['we', "'ve"],
  theyre: ['they', "'re"],
  youre: ['you', "'re"],
  theyll: ['they', "'ll"],
  shell: ['she', "'ll"],
  youll: ['you', "'ll"],
  dont: ['do', 'not'],
  doesnt: ['does', 'not'],
  didnt: ['did', 'not'],
  isnt: ['is', 'not'],
  arent: ['are', 'not'],
  wasnt: ['was', 'not'],
  werent: ['were', 'not'],
  cant: ['can', 'not'],
  couldnt: ['could', 'not'],
  wont: ['will', 'not'],
  wouldnt: ['would', 'not'],
  shouldnt: ['should', 'not'],
  havent: ['have', 'not'],
  hasnt: ['has', 'not'],
  hadnt: ['had', 'not'],
  aint: ['is', 'not'],
  cannot: ['can', 'not'],
  gonna: ['going', 'to'],
  gotta: ['got', 'to'],
  wanna: ['want', 'to'],
}

const CLITICS: Record<string, string> = {
  __proto__: null as never,
  "'s": "'s",
  "'re": 'are',
  "'ve": 'have',
  "'ll": 'will',
  "'d": "'d",
  "'m": 'am',
}

const FRACTIONS: Record<string, string> = {
  __proto__: null as never,
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅛': '1/8',
}

const HARD = new Set(['.', '!', '?', '\n', '\r'])
const SOFT = new Set([',', ';', ':', '…', '—', '–', '(', ')', '[', ']', '"', '“', '”', '*'])

/** Whether a line break ends a sentence (dictated lines) or only wraps it (captions). */
export interface WordOptions {
  readonly linesWrap: boolean
}

/** Splits `text` from `start` to `end` into words. Linear in the length of the stretch. */
export function splitWords(text: string, start: number, end: number, options: WordOptions): Word[] {
  const words: Word[] = []
  let brk: Break = Break.none
  let lastEnd = start
  const push = (said: string, norm: string, from: number, to: number): void => {
    words.push({
      start: from,
      end: to,
      said,
      norm,
      brk: words.length === 0 ? Break.hard : brk,
      mark: '',
      filler: false,
      calls: NO_CALL,
      callsOn: NO_CALL,
      cost: 0,
      by: undefined,
      at: undefined,
      confidence: undefined,
      alternatives: undefined,
    })
    brk = Break.none
    lastEnd = to
  }
  const cut = (strength: Break, mark: string): void => {
    if (strength > brk) brk = strength
    const last = words[words.length - 1]
    if (last && (last.mark === '' || last.mark === ',')) last.mark = mark
  }
  PIECE.lastIndex = start
  for (let match = PIECE.exec(text); match && match.index < end; match = PIECE.exec(text)) {
    const piece = match[0]
    const from = match.index
    const to = from + piece.length
    if (to > end) break
    if (piece === '-') {
      // a hyphen inside a word only separates ("wall-to-wall"); between digits it is a range; with spaces it is a dash
      const tight = from === lastEnd && /[\p{L}\d]/u.test(text[to] ?? '')
      if (tight && /\d/.test(text[from - 1] ?? '') && /\d/.test(text[to] ?? '')) push('-', 'to', from, to)
      else if (!tight) cut(Break.soft, ',')
      continue
    }
    if (piece === '\n' || piece === '\r') {
      if (options.linesWrap) continue
      cut(Break.hard, '.')
      continue
    }
    if (piece.length > 1 && piece.startsWith('..')) {
      cut(Break.soft, '…')
      continue
    }
    if (HARD.has(piece)) {
      cut(Break.hard, piece)
      continue
    }
    if (SOFT.has(piece)) {
      cut(Break.soft, piece === '…' ? '…' : ',')
      continue
    }
    pushWord(piece, from, to, push)
  }
  return words
}

function pushWord(
  piece: string,
  from: number,
  to: number,
  push: (said: string, norm: string, from: number, to: number) => void,
): void {
  if (piece === '%') return push(piece, 'percent', from, to)
  if (piece === '#') return push(piece, 'number', from, to)
  if (piece === '°') return push(piece, 'degrees', from, to)
  if (piece === '&') return push(piece, 'and', from, to)
  const fraction = FRACTIONS[piece]
  if (fraction) return push(piece, fraction, from, to)
  let norm = piece.toLowerCase().replace(/’/g, "'")
  if (/^[a-z]\d+$|^\d+[a-g]$/.test(norm)) return push(piece, norm, from, to)
  if (/^\d/.test(norm)) return push(piece, norm.replace(/,/g, ''), from, to)
  if (norm === "'em") return push(piece, 'them', from, to)
  if (norm.length > 1 && norm.endsWith("'") && !norm.startsWith("'")) norm = norm.slice(0, -1)
  const bare = BARE[norm]
  if (bare) {
    const cutAt = from + bareCut(piece.length, norm, bare)
    push(piece.slice(0, cutAt - from), bare[0], from, cutAt)
    return push(piece.slice(cutAt - from), CLITICS[bare[1]] ?? bare[1], cutAt, to)
  }
  const apostrophe = norm.indexOf("'")
  if (apostrophe > 0) {
    const tail = norm.slice(apostrophe)
    if (tail === "'t" && norm[apostrophe - 1] === 'n') {
      const stem = norm.slice(0, apostrophe - 1)
      const whole =
        stem === 'ca' ? 'can' : stem === 'wo' ? 'will' : stem === 'ai' ? 'is' : stem === 'sha' ? 'shall' : stem
      push(piece.slice(0, apostrophe - 1), whole, from, from + apostrophe - 1)
      return push(piece.slice(apostrophe - 1), 'not', from + apostrophe - 1, to)
    }
    const clitic = CLITICS[tail]
    if (clitic && norm !== "let's") {
      push(piece.slice(0, apostrophe), norm.slice(0, apostrophe), from, from + apostrophe)
      return push(piece.slice(apostrophe), clitic, from + apostrophe, to)
    }
  }
  push(piece, norm, from, to)
}

function bareCut(length: number, norm: string, [head, tail]: [string, string]): number {
  if (norm === 'gonna') return 3
  if (norm === 'gotta' || norm === 'wanna') return 3
  if (norm === 'aint') return 2
  if (norm === 'cannot') return 3
  if (tail === 'not') return length - 2
  return head.length
}
