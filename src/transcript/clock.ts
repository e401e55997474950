/** A time of day-like clock as subtitles write it: `1:02:03.5`, `02:03,500`, `75:10`; the last part is seconds. */
export const CLOCK = String.raw`(?:\d+:)?\d{1,3}:\d{1,2}(?:[.,]\d{1,6})?`

/** A start and a length in seconds to an end, to the millisecond. */
export const plus = (at: number, length: number): number => Math.round((at + length) * 1000) / 1000

/** Seconds, or undefined when the text is no clock (a minute or second of 60 and more after a bigger part). */
export function parseClock(text: string): number | undefined {
  const parts = /^(?:(\d+):)?(\d{1,3}):(\d{1,2})(?:[.,](\d{1,6}))?$/.exec(text.trim())
  if (!parts) return undefined
  const [, hours, minutes, seconds, fraction] = parts
  if (Number(seconds) >= 60 || (hours !== undefined && Number(minutes) >= 60)) return undefined
  const whole = Number(hours ?? 0) * 3600 + Number(minutes) * 60 + Number(seconds)
  return fraction === undefined ? whole : Number(`${whole}.${fraction}`)
}

/** Seconds as minutes and seconds, without parts of a second: `3:07`. */
export const clock = (seconds: number): string =>
  `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, '0')}`
