/**
 * What a user can do wrong, and nothing else: unclear speech is never an error (it becomes doubt, a question or a
 * remark). Each error is one sentence made of what is wrong, where, and what to do about it.
 */
export type ErrorCode =
  | 'missing-file'
  | 'is-folder'
  | 'unreadable'
  | 'empty'
  | 'no-speech'
  | 'not-text'
  | 'bad-json'
  | 'unknown-shape'
  | 'bad-times'
  | 'bad-yard'
  | 'bad-record'
  | 'bad-usage'
  | 'bad-grammar'
  | 'logbook'
  | 'no-recogniser'

/** An error with a sentence fit for a person. `where` names the file, with a line where there is one. */
export class CombscribeError extends Error {
  override readonly name = 'CombscribeError'
  constructor(
    readonly code: ErrorCode,
    readonly what: string,
    readonly where: string,
    readonly next: string,
  ) {
    super(`${where ? `${where}: ` : ''}${what}${next ? `; ${next}` : ''}.`)
  }
}
