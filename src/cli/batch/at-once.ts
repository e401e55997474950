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
