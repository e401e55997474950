import { type CorrectionBody, knownCorrections, standing } from '../../corrections/correction.ts'
import type { Logbook } from '../../logbook/logbook.ts'
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

/** Pairs of labels that a keeper said are two hives, in whichever note. */
export class Apart {
  private readonly pairs = new Set<string>()

  /** What is in a logbook. */
  static async in(book: Logbook): Promise<Apart> {
    const apart = new Apart()
    for (const bodies of await book.notesCorrectedBy('apart'))
      for (const one of standing(knownCorrections(bodies).corrections))
        if (one.kind === 'apart') apart.add(one.one, one.other)
    return apart
  }

  add(one: string, other: string): void {
    this.pairs.add(pair(one, other))
  }

  has(one: string, other: string): boolean {
    return this.pairs.has(pair(one, other))
  }
}

const pair = (one: string, other: string): string => JSON.stringify([one, other].sort())

/** Asks whether labels are one hive, before anything is asked of its values. Gives how many were put right. */
export async function settleLabels(
  doubts: readonly LabelDoubt[],
  desk: Desk,
  apart: Apart,
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
    if (key === 'stop') break
    if (key === 'enter') continue
    const { label, near } = doubt
    if (key === 'n') apart.add(label, near)
    const body: CorrectionBody =
      key === 'y' ? { kind: 'merge', from: label, into: near } : { kind: 'apart', one: label, other: near }
    made += (await desk.save([body])).length
  }
  return made
}
