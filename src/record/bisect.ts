/** How many items of a list begin it that `isBefore` holds of; it must hold of none behind them. */
export function leading<T>(list: readonly T[], isBefore: (item: T) => boolean): number {
  let [low, high] = [0, list.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (isBefore(list[middle]!)) low = middle + 1
    else high = middle
  }
  return low
}
