import { added } from '../../corrections/answer.ts'
import { parseEntry } from '../../corrections/entry.ts'
import type { Terminal } from '../terminal.ts'
import { type Treatment, treatmentsOf, withdrawalQuestion } from '../withdrawal.ts'
import { askLine } from './ask.ts'
import type { Desk } from './desk.ts'

const field = 'did.treat.withdrawal'

/** The treatments of a note whose withdrawal period nobody has written down. */
export const withoutPeriod = (desk: Desk): Treatment[] =>
  treatmentsOf(desk.record()).filter(({ withdrawal }) => withdrawal === undefined)

/** Asks for the withdrawal period of each treatment, as the label says it. Gives how many were written down. */
export async function settleWithdrawals(
  desk: Desk,
  { terminal, list }: { terminal: Terminal; list: boolean },
): Promise<number> {
  let made = 0
  for (const treatment of withoutPeriod(desk)) {
    const question = withdrawalQuestion(treatment)
    if (list) {
      terminal.out(`  ${question}\n`)
      continue
    }
    const typed = await askLine(`${question} As it stands there, such as "14 days"; Enter later`, (line) => {
      const entry = line.trim() === '' ? undefined : parseEntry(field, line)
      return entry && 'fault' in entry ? entry.fault : undefined
    })
    if (typed === undefined) break
    if (typed.trim() === '') continue
    const { start, end } = treatment.readings[0]!
    const place = { hive: treatment.hive, box: null, frame: null, side: null }
    made += (await desk.save([added(desk.text, { start, end }, field, typed.trim(), place)])).length
  }
  return made
}
