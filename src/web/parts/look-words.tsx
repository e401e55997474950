import type { Question } from '../../corrections/questions.ts'

/** More than this between two values, in characters, is left out: the look stays on one screen. */
const LONG = 140
/** So much before the first and behind the last. */
const NEAR = 50

/** The words of a look, those of its values marked, with a little of what stands around them. */
export function LookWords({ question }: { question: Question }) {
  const { before, said, after } = question.words
  const spans = question.rows
    .map(({ start, end }) => ({ start: start - question.start, end: end - question.start }))
    .sort((a, b) => a.start - b.start || b.end - a.end)
  const parts: { text: string; isValue: boolean; at: number }[] = []
  let at = 0
  for (const { start, end } of spans) {
    if (end <= at) continue
    const from = Math.max(at, start)
    parts.push({ text: short(said.slice(at, from)), isValue: false, at })
    parts.push({ text: said.slice(from, end), isValue: true, at: from })
    at = end
  }
  return (
    <blockquote class="look-words">
      {before !== '' && <span>… {tail(before)}</span>}
      {parts.map(({ text, isValue, at: key }) =>
        isValue ? <mark key={key}>{text}</mark> : <span key={key}>{text}</span>,
      )}
      {after !== '' && <span>{head(after)} …</span>}
    </blockquote>
  )
}

/** As much of the words before and behind as tells where one is. */
const tail = (text: string): string => (text.length <= NEAR ? text : text.slice(-NEAR).replace(/^\S*\s/, ''))
const head = (text: string): string => (text.length <= NEAR ? text : text.slice(0, NEAR).replace(/\s\S*$/, ''))

function short(text: string): string {
  if (text.length <= LONG) return text
  const cut = LONG / 2 - 10
  return `${text.slice(0, cut).replace(/\s\S*$/, '')} … ${text.slice(-cut).replace(/^\S*\s/, '')}`
}
