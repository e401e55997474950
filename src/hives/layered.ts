/** A map on top of another one, which is read where the upper has nothing and never written to. */
export class Layered<V> {
  private readonly upper = new Map<string, V>()
  private readonly below: Layered<V> | undefined

  constructor(below?: Layered<V>) {
    this.below = below
  }

  get(key: string): V | undefined {
    return this.upper.get(key) ?? this.below?.get(key)
  }

  set(key: string, value: V): void {
    this.upper.set(key, value)
  }

  /** The upper map's own value, made from the one below when it is first asked for. */
  own(key: string, make: (below: V | undefined) => V): V {
    let value = this.upper.get(key)
    if (value === undefined) {
      value = make(this.below?.get(key))
      this.upper.set(key, value)
    }
    return value
  }

  /** All keys with their values; of a key in both maps the upper value. */
  *entries(): Iterable<readonly [string, V]> {
    for (const entry of this.upper) yield entry
    for (const entry of this.below?.entries() ?? []) if (!this.upper.has(entry[0])) yield entry
  }
}
