import type { BorderReader } from './borders.ts'
import { createTalkNet, type PackedTalkNet, type TalkNet, unpackTalkNet } from './talk-net.ts'

/** A reader of borders out of `border-net.json`. */
export const borderReader = (packed: PackedTalkNet): BorderReader => borderReaderBy(unpackTalkNet(packed))

/** The same by what was unpacked. */
export function borderReaderBy(net: TalkNet): BorderReader {
  const oddsOf = createTalkNet(net)
  return {
    odds(words) {
      const [sentence, clause] = oddsOf(words)
      return { sentence: sentence!, clause: clause! }
    },
  }
}
