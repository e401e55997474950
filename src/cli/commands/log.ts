import { stringify } from 'csv-stringify/sync'
import { type InspectionRecord, placedReadings, type Reading } from '../../record/schema.ts'
import { clean } from '../../report/clean.ts'
import { logbookOption, openExisting } from '../logbooks.ts'
import { noFiles, readOptions } from '../options.ts'
import type { Terminal } from '../terminal.ts'
import { withdrawalQuestion } from '../withdrawal.ts'

const columns = ['date', 'hive', 'what', 'frames', 'kg', 'ingredient', 'amount', 'withdrawal', 'check', 'said', 'note']
type Row = Partial<Record<(typeof columns)[number], string | number>>

/** `combscribe log`: harvests and treatments as CSV. What was not said stays empty; nothing is supposed. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('log', args, logbookOption)
  noFiles('log', positionals)
  const book = await openExisting(values.logbook)
  let treatments = 0
  const questions: string[] = []
  try {
    terminal.out(stringify([columns]))
    for await (const { date, name, record } of book.notes()) {
      for (const row of rowsOf(record)) {
        if (row.what === 'treatment') {
          treatments++
          questions.push(`  ${date}  ${withdrawalQuestion(String(row.hive), row.ingredient?.toString())}\n`)
        }
        const whole: Row = { ...row, date, note: name }
        // A spreadsheet takes a cell that begins with one of these for a formula; csv-stringify writes a ' before it.
        terminal.out(stringify([columns.map((column) => plain(whole[column]))], { escape_formulas: true }))
      }
    }
  } finally {
    await book.close()
  }
  if (treatments > 0) {
    const need = treatments === 1 ? 'treatment needs its' : 'treatments need their'
    terminal.err(`combscribe: ${treatments} ${need} withdrawal period from the product's label.\n`)
    terminal.err(questions.join(''))
  }
  return 0
}

const plain = (cell: string | number | undefined) => (typeof cell === 'string' ? clean(cell) : (cell ?? ''))

const said = (hive: string, { quote, flag }: Reading): Row => ({
  hive,
  said: quote,
  check: flag === 'sure' ? '' : 'yes',
})

function rowsOf(record: InspectionRecord): Row[] {
  const out: Row[] = []
  const treatments = new Map<string, Row>()
  const taken = new Map<string, { sides: number; reading: Reading }>()
  for (const { hive, reading } of placedReadings(record)) {
    const { field, value, quote, entry } = reading
    const base = said(hive, reading)
    const shown = Array.isArray(value) ? value.join(' to ') : value
    if (value === 'no') continue
    if (field === 'honey.taken') out.push({ ...base, what: 'harvest', kg: shown })
    else if (field === 'did.takeHoney') out.push({ ...base, what: 'harvest', frames: shown === 'yes' ? '' : shown })
    else if (field === 'frame.taken') {
      const before = taken.get(hive)
      // A side alone is half a frame.
      taken.set(hive, { sides: (before?.sides ?? 0) + (reading.side ? 1 : 2), reading: before?.reading ?? reading })
    } else if (field === 'did.treat' || field === 'did.treat.kind' || field === 'did.treat.amount') {
      const key = `${hive}|${entry ?? ''}`
      const row = treatments.get(key) ?? { ...base, what: 'treatment' }
      if (!treatments.has(key)) out.push(row)
      treatments.set(key, row)
      if (field === 'did.treat.kind') row.ingredient = shown
      if (field === 'did.treat.amount' || (field === 'did.treat' && shown !== 'yes')) row.amount ??= shown
      if (base.check) row.check = 'yes'
      if (row.said !== quote) row.said = `${row.said} … ${quote}`
    }
  }
  for (const [hive, { sides, reading }] of taken) {
    // Frames taken one by one and their number, both said, are one harvest.
    if (out.some((row) => row.hive === hive && row.what === 'harvest' && row.frames)) continue
    out.push({ ...said(hive, reading), what: 'harvest', frames: sides / 2 })
  }
  return out
}
