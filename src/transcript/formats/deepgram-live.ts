import * as z from '../../zod.ts'
import { plus } from '../clock.ts'
import { keepFinals } from '../finals.ts'
import { checked, isObject, maybe, objectsOf, seconds } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'
import { deepgramChannel, piecesOf } from './deepgram.ts'

/** Deepgram, live: a time range is told until `is_final`. Confidence: as it is. */
export const deepgramLive: Format = {
  id: 'deepgram-live',
  title: 'Deepgram live stream',
  detect: (source) => objectsOf(source).some((value) => 'is_final' in value && isObject(value.channel)),
  open(source) {
    const events = objectsOf(source)
      .filter((value) => isObject(value.channel))
      .map((value) => checked(event, value, source, deepgramLive.title))
    const isStereo = events.some(({ channel_index }) => (channel_index?.[1] ?? 1) > 1)
    const pieces = events.flatMap(({ is_final, start, duration, channel_index, channel }) =>
      piecesOf(channel, isStereo ? String(channel_index?.[0]) : undefined).map((piece) => ({
        ...known({ at: start, until: start == null || duration == null ? null : plus(start, duration) }),
        ...piece,
        ...(!is_final && { partial: true }),
      })),
    )
    return layOut(keepFinals(pieces), 'vendor')
  },
}

const event = z.object({
  channel_index: maybe(z.array(z.number())),
  start: maybe(seconds),
  duration: maybe(seconds),
  is_final: z.boolean(),
  channel: deepgramChannel,
})
