import { clean } from '../../report/clean.ts'
import { sayHive } from '../../report/words.ts'
import type { Terminal } from '../terminal.ts'
import { askKey } from './ask.ts'
import type { Desk } from './desk.ts'

/** A label of a note that was probably meant for a hive that is known. */
export interface LabelDoubt {
  readonly label: string
  readonly near: string
}

const question = ({ label, near }: LabelDoubt): string =>
  `"${clean(label)}" is new and near to ${clean(sayHive(near))}. Is it the same hive?`

/** Asks whether labels are one hive, before anything is asked of its values. Gives how many were put right. */
export async function settleLabels(
  doubts: readonly LabelDoubt[],
  desk: Desk,
  { terminal, list }: { terminal: Terminal; list: boolean },
): Promise<number> {
  let made = 0
  for (const doubt of doubts) {
    if (list) {
      terminal.out(`  ${question(doubt)}\n`)
      continue
    }
    const key = await askKey(
      [question(doubt), '', '   y  yes, the same', '   n  no, a hive of its own', '', 'Enter later'].join('\n'),
      ['enter', 'y', 'n'],
    )
    if (key !== 'y') continue
    made += (await desk.save([{ kind: 'merge', from: doubt.label, into: doubt.near }])).length
  }
  return made
}
