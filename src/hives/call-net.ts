import {
  type Give,
  inHeap,
  inSlots,
  type PackedSlotNet,
  type SlotNetNumbers,
  slotNet,
  unpackSlotNet,
} from '../slot-net.ts'
import type { CallNet, Context } from './context.ts'

/*
 * What the words around a call tell of how likely it calls a hive: those before and behind count by their place, those farther off
 * as a heap. The net (`slot-net.ts`) knows more ways of calling a hive than those it was shown. It says one cue among the others
 * of a call (`weigh.ts`). Learned by `npm run hives`.
 */

/** Words that count by their place on either side, and those farther off that count as a heap. */
const PLACES = 8
const FAR = { before: 4, behind: 16 } as const
/** So many words call a hive at most as the net sees them. */
const OWN = 2
/** How far it looks. */
export const REACH: CallNet['reach'] = { before: PLACES + FAR.before, behind: PLACES + FAR.behind }

/** Where a word may stand: before, behind, in the call, in the two heaps; and the kind of the call. */
const [HEAPS, KIND] = [2 * PLACES + OWN, 2 * PLACES + OWN + 2]
export const CALL_SLOTS = KIND + 1

/** Gives the slot of each word around a call, and by what it counts. */
export function slotsOfCall({ kind, own, before, behind }: Context, give: Give): void {
  give(`=${kind}`, KIND, 1)
  inSlots(give, before, PLACES, 0)
  inSlots(give, behind, PLACES, PLACES)
  inSlots(give, own, OWN, 2 * PLACES)
  inHeap(give, before, PLACES, REACH.before, HEAPS, 1 / FAR.before)
  inHeap(give, behind, PLACES, REACH.behind, HEAPS + 1, 1 / FAR.behind)
}

/** A net out of `call-net.json`. */
export const callNet = (packed: PackedSlotNet): CallNet => callNetBy(unpackSlotNet(packed))

/** The same by what was unpacked. */
export function callNetBy(net: SlotNetNumbers): CallNet {
  const oddsOf = slotNet(net)
  return { reach: REACH, odds: (context) => oddsOf((give) => slotsOfCall(context, give))[0]! }
}
