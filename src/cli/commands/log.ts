import { stringify } from 'csv-stringify/sync'
import { type InspectionRecord, placedReadings, type Reading, type Value } from '../../record/schema.ts'
import { clean } from '../../report/clean.ts'
import { sayValue } from '../../report/words.ts'
import { logbookOption, openExisting } from '../logbooks.ts'
import { noFiles, readOptions } from '../options.ts'
import type { Terminal } from '../terminal.ts'
import { treatmentsOf, withdrawalQuestions } from '../withdrawal.ts'

const columns = ['date', 'hive', 'what', 'frames', 'kg', 'ingredient', 'amount', 'withdrawal', 'check', 'said', 'note']
type Row = Partial<Record<(typeof columns)[number], string | number>>

/** `combscribe log`: harvests and treatments as CSV. What was not said stays empty; nothing is supposed. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('log', args, logbookOption)
  noFiles('log', positionals)
  const book = await openExisting(values.logbook)
  const questions: string[] = []
  try {
    terminal.out(stringify([columns]))
    for await (const { date, name, record } of book.notes()) {
      for (const question of [...withdrawalQuestions(record).values()].flat())
        questions.push(`  ${date}  ${question}\n`)
      for (const row of rowsOf(record)) {
        const whole: Row = { ...row, date, note: name }
        // A spreadsheet takes a cell that begins with one of these for a formula; csv-stringify writes a ' before it.
        terminal.out(stringify([columns.map((column) => plain(whole[column]))], { escape_formulas: true }))
      }
    }
  } finally {
    await book.close()
  }
  if (questions.length > 0) {
    const need = questions.length === 1 ? 'treatment needs its' : 'treatments need their'
    const count = `${questions.length} ${need} withdrawal period from the product's label`
    terminal.err(`combscribe: ${count}; combscribe fix --logbook asks for it.\n`)
    terminal.err(questions.join(''))
  }
  return 0
}

const plain = (cell: string | number | undefined) => (typeof cell === 'string' ? clean(cell) : (cell ?? ''))

const shown = (value: Value): string | number => (Array.isArray(value) ? value.join(' to ') : value)

const said = (hive: string, { quote, flag }: Reading): Row => ({
  hive,
  said: quote,
  check: flag === 'sure' ? '' : 'yes',
})

function rowsOf(record: InspectionRecord): Row[] {
  const out: Row[] = []
  const taken = new Map<string, { sides: number; reading: Reading }>()
  for (const { hive, reading } of placedReadings(record)) {
    const { field, value } = reading
    const base = said(hive, reading)
    if (value === 'no') continue
    if (field === 'honey.taken') out.push({ ...base, what: 'harvest', kg: shown(value) })
    else if (field === 'did.takeHoney')
      out.push({ ...base, what: 'harvest', frames: value === 'yes' ? '' : shown(value) })
    else if (field === 'frame.taken') {
      const before = taken.get(hive)
      // A side alone is half a frame.
      taken.set(hive, { sides: (before?.sides ?? 0) + (reading.side ? 1 : 2), reading: before?.reading ?? reading })
    }
  }
  for (const [hive, { sides, reading }] of taken) {
    // Frames taken one by one and their number, both said, are one harvest.
    if (out.some((row) => row.hive === hive && row.what === 'harvest' && row.frames)) continue
    out.push({ ...said(hive, reading), what: 'harvest', frames: sides / 2 })
  }
  for (const { hive, readings, ingredient, withdrawal } of treatmentsOf(record)) {
    const amount = readings.find(
      ({ field, value }) => /\.amount$/.test(field) || (field === 'did.treat' && value !== 'yes'),
    )
    out.push({
      ...{
        hive,
        what: 'treatment',
        ingredient: ingredient && sayValue(ingredient, null),
        withdrawal,
        amount: amount && shown(amount.value),
      },
      check: readings.some(({ flag }) => flag !== 'sure') ? 'yes' : '',
      said: [...new Set(readings.map(({ quote }) => quote))].join(' … '),
    })
  }
  return out
}
