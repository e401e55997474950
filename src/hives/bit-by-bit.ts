/** Work that may be left off between its steps and gone on with later. */
export type Work<T> = Generator<void, T>

/** So many things are done in one step. */
export const AT_ONCE = 48

/** Does all that is left of some work. */
export function finish<T>(work: Work<T>): T {
  for (;;) {
    const { done, value } = work.next()
    if (done) return value
  }
}

/** Goes on with some work until a time (`performance.now`); null while something is left to do. */
export function workUntil<T>(work: Work<T>, until: number): { readonly result: T } | null {
  do {
    const { done, value } = work.next()
    if (done) return { result: value }
  } while (performance.now() < until)
  return null
}

/** What each of some things gives, some at once. */
export function* each<A, B>(things: readonly A[], give: (thing: A, i: number) => B): Work<B[]> {
  const out: B[] = []
  for (let i = 0; i < things.length; i++) {
    out.push(give(things[i]!, i))
    if (i % AT_ONCE === AT_ONCE - 1) yield
  }
  return out
}
