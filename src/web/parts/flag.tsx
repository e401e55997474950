import type { Flag } from '../../record/schema.ts'

const WORDS: Record<Flag, string> = { sure: '', check: 'check', guess: 'a guess' }

/** How sure a value is, in words; nothing for what is sure. */
export function FlagWord({ flag, words = WORDS[flag] }: { flag: Flag; words?: string }) {
  return flag === 'sure' ? null : <span class={`flag flag-${flag}`}>{words}</span>
}
