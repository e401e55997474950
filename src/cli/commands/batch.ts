import { access, readFile, stat } from 'node:fs/promises'
import { basename } from 'node:path'
import { distance } from 'fastest-levenshtein'
import { CombscribeError } from '../../errors.ts'
import { openLogbook } from '../../logbook/open.ts'
import { placedReadings } from '../../record/schema.ts'
import { clean, paints } from '../../report/style.ts'
import type { Finding } from '../../rules/finding.ts'
import { judge } from '../../rules/index.ts'
import { readerHints } from '../../yard.ts'
import { readYard } from '../files.ts'
import { hashOf, notesIn } from '../notes-folder.ts'
import { readOptions, usage } from '../options.ts'
import { openProgress } from '../progress.ts'
import { noteForLogbook } from '../read-for-logbook.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe batch`: every new or changed note of a folder into the logbook. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('batch', args, {
    logbook: { type: 'string', default: 'combscribe.db' },
    yard: { type: 'string' },
  })
  const [folder, second] = positionals
  if (folder === undefined) throw usage('batch', 'no folder was named')
  if (second !== undefined) throw usage('batch', `takes one folder, and "${second}" was given too`)
  const yard = values.yard === undefined ? undefined : await readYard(values.yard, terminal)
  const hints = yard && readerHints(yard)
  const paths = await notesIn(folder)
  const book = await openLogbook(values.logbook)
  const progress = openProgress(paths.length)
  const dates: string[] = []
  const touched = new Set<string>()
  let [read, words, doubtful, code, same] = [0, 0, 0, 0, 0]
  try {
    const labelsBefore = new Set((await book.hives()).map(({ hive }) => hive))
    const known = await book.known()
    const pathOf = new Map([...known].map(([path, hash]) => [hash, path]))
    for (const path of paths) {
      try {
        const [bytes, { mtime }] = await Promise.all([readFile(path), stat(path)])
        const hash = hashOf(bytes)
        const twin = pathOf.get(hash)
        if (known.get(path) === hash) same++
        else if (twin !== undefined && twin !== path && !known.has(path)) {
          if (await isThere(twin)) terminal.err(`combscribe: ${path}: the same as ${twin}; left out.\n`)
          else await book.rename(twin, path)
          same++
        } else {
          const note = noteForLogbook(path, bytes, mtime, hints)
          await book.write(note)
          known.set(path, hash)
          pathOf.set(hash, path)
          touched.add(path)
          const unsure = placedReadings(note.record).filter(({ reading }) => reading.flag !== 'sure').length
          read++
          words += note.text.split(/\s+/).length
          doubtful += unsure
          dates.push(
            `  ${note.date}  ${clean(basename(path))} (${note.dateFrom}), ${counted(unsure, 'value')} to check`,
          )
        }
      } catch (error) {
        const told = unreadable(error, path)
        if (!told) throw error
        terminal.err(`combscribe: ${told.message}\n`)
        code = 1
      }
      progress.step(words, doubtful)
    }
    const judged = await book.judgeWaiting((record, history) => judge(record, history, yard))
    progress.end()

    const paint = paints(terminal.style)
    const lines = [`${counted(read, 'note')} read (${words} words), ${same} unchanged, ${judged} judged.`]
    lines.push(...dates.slice(-12))
    if (dates.length > 12) lines.push(`  and ${dates.length - 12} more before these`)
    // An alarm is never hidden by a later note; a question is asked of each hive's last visit alone.
    const urgent: string[] = []
    const latest = new Map<string | null, string[]>()
    if (touched.size > 0) {
      for await (const { id, path, date, record } of book.notes()) {
        if (!touched.has(path)) continue
        const findings = await book.findings(id)
        for (const hive of [null, ...record.hives.map((one) => one.hive)]) {
          const own = findings.filter(({ place }) => place.hive === hive)
          const say = (of: Finding, words: string) => `  ${date}  ${hiveOf(of)}: ${clean(words)}`
          urgent.push(...own.filter(({ verdict }) => verdict === 'urgent').map((one) => say(one, one.says.what)))
          latest.set(
            hive,
            own.flatMap((one) =>
              one.missing.filter(({ priority }) => priority === 'first').map(({ ask }) => say(one, ask)),
            ),
          )
        }
        const others = findings.filter(
          ({ place, verdict }) =>
            verdict === 'urgent' && place.hive !== null && !record.hives.some(({ hive }) => hive === place.hive),
        )
        urgent.push(...others.map((one) => `  ${date}  ${hiveOf(one)}: ${clean(one.says.what)}`))
      }
    }
    section(lines, paint.heading('Urgent'), urgent.reverse())
    section(lines, paint.heading('Needs an answer'), [...new Set([...latest.values()].flat())])
    const given = (yard?.hives ?? []).map(({ label }) => label)
    const labels = (await book.hives()).map(({ hive }) => hive)
    section(lines, paint.heading('Is it the same hive?'), nearLabels(labels, labelsBefore, given))
    terminal.out(`${lines.join('\n')}\n`)
    return code
  } finally {
    progress.end()
    await book.close()
  }
}

const hiveOf = ({ place }: Finding) =>
  place.hive === null ? 'the visit' : place.hive ? `hive ${place.hive}` : 'the hive'

function section(lines: string[], title: string, entries: readonly string[]): void {
  if (entries.length === 0) return
  lines.push('', title, ...entries.slice(0, 20))
  if (entries.length > 20) lines.push(`  and ${entries.length - 20} more`)
}

/** New labels within two letters of one that was there before or stands in the yard file. Numbers differ on purpose. */
function nearLabels(labels: readonly string[], before: ReadonlySet<string>, given: readonly string[]): string[] {
  const settled = [...new Set([...before, ...given])]
  const out: string[] = []
  for (const label of labels) {
    if (settled.includes(label) || /\d/.test(label) || label.length < 4) continue
    const near = settled.find((old) => old.length >= 4 && !/\d/.test(old) && distance(old, label) <= 2)
    if (near)
      out.push(
        `  "${clean(label)}" is new and near to "${clean(near)}": if it is the same, add it to "said" in the yard file`,
      )
  }
  return out
}

async function isThere(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  )
}

/** A fault of this one file; undefined for what would stop the next ones too. */
function unreadable(error: unknown, path: string): CombscribeError | undefined {
  if (error instanceof CombscribeError)
    return ['bad-yard', 'bad-grammar', 'logbook'].includes(error.code) ? undefined : error
  const { code, syscall } = error as NodeJS.ErrnoException
  if (syscall === undefined) return undefined
  return new CombscribeError('unreadable', `cannot be read (${code})`, path, 'check the file and its permissions')
}

const counted = (count: number, thing: string): string => `${count} ${thing}${count === 1 ? '' : 's'}`
