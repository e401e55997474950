import { phraseList } from '../../hints/lists.ts'
import { vocabularyOf } from '../../hints/vocabulary.ts'
import { createVisit } from '../../live/visit.ts'

/** How much is heard: by then the engine has compiled most of what an answer needs. */
const SENTENCES = 60
/** Milliseconds between two of them: a page in use does not stand still. */
const APART = 15

/**
 * Hears made-up talk of the trade's phrases in a visit that is thrown away, as long as nobody speaks (`isIdle`): otherwise the first
 * sentences of a visit would wait until the reader's tables are laid out and its code is compiled.
 */
export function warmUp(isIdle: () => boolean): void {
  const phrases = phraseList(vocabularyOf(undefined)).trimEnd().split('\n')
  const visit = createVisit({ name: '' })
  let heard = 0
  const next = (): void => {
    if (!isIdle() || heard === SENTENCES) return
    const words = phrases
      .slice(heard * 4, heard * 4 + 4)
      .map((phrase, i) => (i % 2 === 0 ? phrase : `${heard} ${phrase}`))
    visit.hear(`${heard % 6 === 0 ? `Hive ${heard / 6 + 1}. ` : ''}${words.join(', ')}.`)
    visit.catchUp(APART)
    heard++
    setTimeout(next, APART)
  }
  setTimeout(next, APART)
}
