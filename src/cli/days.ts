/** Whether a text is an ISO day that the calendar has: 2026-02-28, not 2026-02-30. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d\d-\d\d$/.test(text)) return false
  const day = new Date(`${text}T00:00:00Z`)
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text)
}

/** A day in a file's name: 2026-09-06, 2026_09_06, 20260906. Undefined where there is none that exists. */
export function dayInName(name: string): string | undefined {
  const found = /(?<!\d)((?:19|20)\d\d)([-_. ]?)(\d\d)\2(\d\d)(?!\d)/.exec(name)
  if (!found) return undefined
  const day = `${found[1]}-${found[3]}-${found[4]}`
  return isDay(day) ? day : undefined
}

/** The local calendar day of a moment. */
export function localDay(moment: Date): string {
  const two = (n: number) => String(n).padStart(2, '0')
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`
}

/** The local day of an ISO date or date and time; undefined for what is none. */
function dayOf(moment: string): string | undefined {
  if (isDay(moment)) return moment
  const time = new Date(moment)
  return Number.isNaN(time.getTime()) ? undefined : localDay(time)
}

/** The day that a note's name gives, else the one that its transcript gives for the recording; with where it is from. */
export function dayGiven(
  name: string,
  recordedAt: string | undefined,
): { day: string; from: 'file name' | 'recording' } | undefined {
  const named = dayInName(name)
  if (named) return { day: named, from: 'file name' }
  const recorded = recordedAt === undefined ? undefined : dayOf(recordedAt)
  return recorded === undefined ? undefined : { day: recorded, from: 'recording' }
}
