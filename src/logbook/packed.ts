import { deflateSync, inflateSync } from 'node:zlib'

/** JSON as it lies in the database: deflated (RFC 1950), a tenth of its size, for records and findings repeat themselves. */
export const pack = (value: unknown): Uint8Array => deflateSync(JSON.stringify(value), { level: 4 })

/** What `pack` made, or the plain JSON that schemas before the third kept. */
export function unpack<T>(stored: Uint8Array | string): T {
  if (typeof stored === 'string') return JSON.parse(stored)
  // JSON of an object or a list begins with { or [, deflated data never does.
  const isPlain = stored[0] === 0x7b || stored[0] === 0x5b
  const bytes = isPlain ? stored : inflateSync(stored)
  return JSON.parse(new TextDecoder().decode(bytes))
}
