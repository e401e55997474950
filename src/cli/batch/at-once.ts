/**
 * Hands every item to `work`, `count` at once; no item is taken from the source before there is a hand free for it. After
 * a failure nothing more is taken; what is in hand is finished before the failure is thrown.
 */
export async function eachAtOnce<T>(
  source: AsyncGenerator<T>,
  count: number,
  work: (item: T) => Promise<void>,
): Promise<void> {
  const failures: unknown[] = []
  const hand = async () => {
    while (failures.length === 0) {
      const { done, value } = await source.next()
      if (done) return
      await work(value)
    }
  }
  await Promise.all(
    Array.from({ length: count }, () =>
      hand().catch((error) => {
        failures.push(error)
      }),
    ),
  )
  if (failures.length > 0) throw failures[0]
}

/** Items in blocks of at most `size`. */
export async function* inBlocks<T>(source: AsyncIterable<T>, size: number): AsyncGenerator<T[]> {
  let block: T[] = []
  for await (const item of source) {
    block.push(item)
    if (block.length < size) continue
    yield block
    block = []
  }
  if (block.length > 0) yield block
}

/** The results of `work` in the order of the items, `count` items in hand at once. */
export async function* inOrder<T, R>(
  source: AsyncIterable<T>,
  count: number,
  work: (item: T) => Promise<R>,
): AsyncGenerator<R> {
  const inHand: Promise<R>[] = []
  for await (const item of source) {
    const result = work(item)
    // A failure is thrown when its turn comes, and is no unhandled one before.
    result.catch(() => {})
    inHand.push(result)
    if (inHand.length >= count) yield await inHand.shift()!
  }
  for (const result of inHand) yield await result
}

/** All of `source`, of which the first items are looked at beforehand: at most `count` of them. */
export async function lookAhead<T>(source: AsyncGenerator<T>, count: number): Promise<[T[], AsyncGenerator<T>]> {
  const first: T[] = []
  while (first.length < count) {
    const { done, value } = await source.next()
    if (done) break
    first.push(value)
  }
  async function* all() {
    yield* first
    yield* source
  }
  return [first, all()]
}
