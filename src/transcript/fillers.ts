/** What recognisers print among the words without a word having been said: `<s>`, `<sil>`, `[NOISE]`, `!SIL`. */
export const isFiller = (word: string): boolean =>
  /^(?:<[^<>]*>|\[[^[\]]*\]|![A-Z]+|\+\+[^+]*\+\+|-|@|%HESITATION)$/.test(word)

/** `of(2)` is the second pronunciation of "of". */
export const withoutVariant = (word: string): string => word.replace(/\(\d+\)$/, '')
