import type { BorderReader } from './borders.ts'
import { type PackedTalkNet, type TalkNet, talkReader, unpackTalkNet } from './talk-net.ts'

/** A reader of borders by a net that was unpacked. */
export const borderReaderBy = (net: TalkNet): BorderReader => talkReader(net, ['sentence', 'clause'])

/** The same out of `border-net.json`. */
export const borderReader = (packed: PackedTalkNet): BorderReader => borderReaderBy(unpackTalkNet(packed))
