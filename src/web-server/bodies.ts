import type { Context, MiddlewareHandler } from 'hono'
import { refuse } from './guard.ts'

export interface BodyRule {
  /** Media types that are taken, in lower case. A form of another page can send none of them unasked. */
  readonly types: readonly string[]
  /** Bytes. */
  readonly most: number
}

/** Refuses a body by its head alone, before a byte of it is read: its type, and its length, which must be told. */
export const bodyOf =
  ({ types, most }: BodyRule): MiddlewareHandler =>
  async (c, next) => {
    const type = mediaType(c)
    if (!types.includes(type)) return refuse(c, 415, `This takes ${types[0]}, not ${type || 'a body without a type'}.`)
    const length = c.req.header('content-length')
    if (length === undefined || c.req.header('transfer-encoding') !== undefined) {
      return refuse(c, 411, 'The length of the body must be told.')
    }
    if (Number(length) > most) return refuse(c, 413, `This is more than ${Math.round(most / 1e6)} MB.`)
    return next()
  }

const mediaType = (c: Context): string => (c.req.header('content-type') ?? '').split(';')[0]!.trim().toLowerCase()
