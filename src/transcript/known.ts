/** Leaves out what is unknown, so that an absent value is absent and not `undefined` or `null`. */
export function known<T extends object>(values: T): { [K in keyof T]?: NonNullable<T[K]> } {
  const entries = Object.entries(values).filter(([, value]) => value !== undefined && value !== null)
  return Object.fromEntries(entries) as { [K in keyof T]?: NonNullable<T[K]> }
}
