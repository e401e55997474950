import type { NameReader } from './named.ts'
import { createTalkNet, type PackedTalkNet, type TalkNet, unpackTalkNet } from './talk-net.ts'

/** A reader of names out of `name-net.json`. */
export const nameReader = (packed: PackedTalkNet): NameReader => nameReaderBy(unpackTalkNet(packed))

/** The same by what was unpacked. */
export function nameReaderBy(net: TalkNet): NameReader {
  const oddsOf = createTalkNet(net)
  return {
    odds(words) {
      const [begins, goesOn] = oddsOf(words)
      return { begins: begins!, goesOn: goesOn! }
    },
  }
}
