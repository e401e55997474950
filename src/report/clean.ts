/** One line without control or direction marks: what a note holds must not drive the reader's terminal. */
export const clean = (text: string): string =>
  text
    .replace(/\s+/g, ' ')
    .replace(/[\p{Cc}\p{Cs}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, '')
    .trim()
