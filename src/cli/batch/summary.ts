import { basename } from 'node:path'
import type { Waiting } from '../../logbook/logbook.ts'
import { clean } from '../../report/clean.ts'
import { paints, type Style } from '../../report/style.ts'
import { counted, sayHive } from '../../report/words.ts'
import { nearLabel } from '../near-labels.ts'
import type { JudgedNote, ReadNote } from './task.ts'

/** How many entries of a section are shown; of the notes, fewer. */
const [shown, shownNotes] = [20, 12]

/** What a run has done and found, as it goes on. It keeps what it will print and no more, however many notes there are. */
export class Summary {
  private notes: { path: string; line: string }[] = []
  private readonly urgent: string[] = []
  private urgentCount = 0
  private readonly asks = new Map<string | null, string[]>()
  readCount = 0
  words = 0
  doubtful = 0
  same = 0
  judgedCount = 0

  read({ rows, words, doubtful }: ReadNote): void {
    this.readCount++
    this.words += words
    this.doubtful += doubtful
    const { path, date, dateFrom } = rows
    const line = `  ${date}  ${clean(basename(path))} (${dateFrom}), ${counted(doubtful, 'value')} to check`
    this.notes.push({ path, line })
    this.notes.sort((a, b) => (a.path < b.path ? -1 : 1))
    this.notes = this.notes.slice(-shownNotes)
  }

  /**
   * Notes come in the order of their days. An alarm is never hidden by a later note; a question is asked of each hive's
   * last visit alone. Notes that were judged before have been told of.
   */
  judged({ date, isNew }: Waiting, { urgent, asks }: JudgedNote): void {
    this.judgedCount++
    if (!isNew) return
    const say = (hive: string | null, words: string) =>
      `  ${date}  ${hive === null ? 'the visit' : sayHive(hive)}: ${clean(words)}`
    for (const { hive, what } of urgent) {
      this.urgentCount++
      this.urgent.unshift(say(hive, what))
    }
    this.urgent.splice(shown)
    for (const { hive, asks: own } of asks)
      this.asks.set(
        hive,
        own.map((ask) => say(hive, ask)),
      )
  }

  text(style: Style, near: readonly string[]): string {
    const paint = paints(style)
    const { readCount, words, same, judgedCount } = this
    const lines = [
      `${counted(readCount, 'note')} read (${words} words), ${same} unchanged, ${judgedCount} judged.`,
      ...this.notes.map(({ line }) => line),
    ]
    if (readCount > shownNotes) lines.push(`  and ${readCount - shownNotes} more before these`)
    section(lines, paint.heading('Urgent'), this.urgent, this.urgentCount)
    const asks = [...new Set([...this.asks.values()].flat())]
    section(lines, paint.heading('Needs an answer'), asks, asks.length)
    section(lines, paint.heading('Is it the same hive?'), near, near.length)
    return `${lines.join('\n')}\n`
  }
}

function section(lines: string[], title: string, entries: readonly string[], count: number): void {
  if (entries.length === 0) return
  lines.push('', title, ...entries.slice(0, shown))
  if (count > shown) lines.push(`  and ${count - shown} more`)
}

/** New labels that were probably meant for one that is settled. */
export function nearLabels(labels: readonly string[], settled: ReadonlySet<string>): string[] {
  return labels.flatMap((label) => {
    const near = settled.has(label) ? undefined : nearLabel(label, settled)
    if (near === undefined) return []
    return `  "${clean(label)}" is new and near to "${clean(near)}": combscribe fix makes them one, or add it to "said" in the yard file`
  })
}
