import { amount, word } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isAutumn, seasonOf } from './season.ts'
import { beeFrames } from './strength-facts.ts'
import { supersOn } from './treatment-facts.ts'

/** Into winter or a dearth with no more room than the bees can hold warm and guard; the excluder never stays under a super. */
export const boxesSpare = defineRule({
  id: 'boxes-spare',
  title: 'Take boxes off for winter or dearth?',
  kind: 'ready',
  needs: ['boxes.super', 'boxes.brood', 'frames.bees', 'frames.total', 'forage', 'excluder.present'],
  numbers: {
    occupied: num(50, 'percent', 'common practice', 'bees on fewer than this share of all combs: a box is too many'),
  },
  sources: ['swansea-autumn'],
  cautions: ['lifting'],
  judge(hive, n) {
    const autumn = isAutumn(hive.date, hive.settings)
    const winter = seasonOf(hive.date, hive.settings) === 'winter'
    const dearth = word(hive, 'forage')
    const closing = autumn === true || dearth.is === 'dearth'
    if (!closing && (winter || autumn === false)) {
      const why = winter ? 'it is winter: leave the cluster alone' : 'it is neither autumn nor a dearth'
      return [{ verdict: 'no', what: 'Leave the boxes as they are.', why, restsOn: dearth.by }]
    }
    const open = (why: string, field: string) => [
      {
        verdict: 'cannot tell' as const,
        what: 'Whether boxes should come off is open.',
        why,
        missing: [ask(hive, field)],
      },
    ]
    if (!closing) return open('the season is not known', hive.date ? 'yard.hemisphere' : 'visit.date')
    const supers = supersOn(hive)
    if (supers.is === true && autumn === true)
      return [
        {
          verdict: 'yes',
          what: 'Take the supers off.',
          why: 'it is time to get ready for winter and supers are on',
          next: 'Take supers and queen excluder off; leave enough stores.',
          restsOn: supers.by,
        },
      ]
    const bees = beeFrames(hive)
    const boxes = Math.max(hive.boxes.length, (amount(hive, 'boxes.brood')?.likely ?? 0) + (supers.is ? 1 : 0))
    const perBox = hive.settings.equipmentOf(hive.label).framesPerBox
    const total = amount(hive, 'frames.total')
    const frames = total?.likely ?? (perBox && boxes > 0 ? perBox * boxes : undefined)
    if (!bees) return open('how many frames the bees cover was not said', 'frames.bees')
    if (!frames) return open('how many frames the hive holds was not said', 'frames.total')
    const share = (bees.likely / frames) * 100
    const why = `bees on ${bees.likely} of ${frames} frames`
    const restsOn = [...bees.by, ...(total?.by ?? []), ...dearth.by]
    return share < n.occupied
      ? [
          {
            verdict: 'yes',
            what: 'Take empty boxes off.',
            why,
            next: 'Leave them no more room than they can guard.',
            restsOn,
          },
        ]
      : [{ verdict: 'no', what: 'They fill their boxes.', why, restsOn }]
  },
})
