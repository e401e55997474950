const day = 86_400_000
const stamp = (date: string) => Date.parse(`${date}T00:00:00Z`)

/** Calendar days after an ISO date; independent of any time zone. */
export const addDays = (date: string, days: number): string =>
  new Date(stamp(date) + Math.round(days) * day).toISOString().slice(0, 10)

/** Whole days from one ISO date to another, negative when `to` is earlier. */
export const daysBetween = (from: string, to: string): number => Math.round((stamp(to) - stamp(from)) / day)

export const isDate = (value: unknown): value is string =>
  typeof value === 'string' && /^\d{4}-\d{2}-\d{2}$/.test(value) && !Number.isNaN(stamp(value))

export const monthOf = (date: string): number => Number(date.slice(5, 7))
