import type { NameReader } from './named.ts'
import { type PackedTalkNet, type TalkNet, talkReader, unpackTalkNet } from './talk-net.ts'

/** A reader of names by a net that was unpacked. */
export const nameReaderBy = (net: TalkNet): NameReader => talkReader(net, ['begins', 'goesOn'])

/** The same out of `name-net.json`. */
export const nameReader = (packed: PackedTalkNet): NameReader => nameReaderBy(unpackTalkNet(packed))
