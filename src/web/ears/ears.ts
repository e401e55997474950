/** What a way of hearing tells, in the order in which it happens. */
export interface Heard {
  /** The sentence that is being spoken, as far as it was made out; empty: none any more. */
  hearing(words: string): void
  /** A finished utterance. */
  said(words: string): void
  /** It could not go on; one sentence for the keeper. Listening has ended. */
  failed(why: string): void
  /** Something was spoken that could not be made out. */
  unclear(): void
}

/** One way of hearing. */
export interface Ear {
  start(): Promise<void>
  /** Ends listening; what was spoken until now is still told. */
  stop(): void
  /** Does not hear for a while: the page itself is speaking. */
  hold(): void
  resume(): void
}
