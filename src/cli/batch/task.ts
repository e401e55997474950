import { applyCorrections } from '../../corrections/apply.ts'
import { knownCorrections } from '../../corrections/correction.ts'
import type { Waiting } from '../../logbook/logbook.ts'
import { unpack } from '../../logbook/packed.ts'
import { type FindingRows, findingRows, type NoteRows, noteRows } from '../../logbook/rows.ts'
import { type InspectionRecord, placedReadings } from '../../record/schema.ts'
import { judge } from '../../rules/index.ts'
import { readerHints, type Yard } from '../../yard.ts'
import { withdrawalQuestions } from '../withdrawal.ts'
import { type NoteFile, noteForLogbook } from './read-note.ts'

/** A note that was read, ready to be written, and what the summary says of it. */
export interface ReadNote {
  readonly rows: NoteRows
  readonly words: number
  /** Readings that are not sure. */
  readonly doubtful: number
}

/** A note that was judged, ready to be written, and what the summary says of it. `hive` is null for the whole visit. */
export interface JudgedNote extends FindingRows {
  readonly urgent: readonly { readonly hive: string | null; readonly what: string }[]
  /** Questions on which a colony or a person may hang, by the hives that were visited. */
  readonly asks: readonly { readonly hive: string | null; readonly asks: readonly string[] }[]
}

/** A note of the logbook that is to be read once more: its record as it stands, packed, and what people put right. */
export interface OldNote {
  readonly file: NoteFile
  readonly reader: string
  readonly record: Uint8Array | string
  readonly corrections: readonly unknown[]
}

export interface RereadNote {
  /** Ready to be written; undefined where nothing is other than before. */
  readonly rows: NoteRows | undefined
  /** Readings that went and came, a line each. */
  readonly changes: readonly string[]
  /** Corrections that find their words no more. */
  readonly orphaned: number
}

/** The work of a night run that computes and touches nothing: on this thread or on another it gives the same. */
export interface Tasks {
  read(file: NoteFile): ReadNote
  reread(note: OldNote): RereadNote
  judge(note: Waiting): JudgedNote
}

export function tasksFor(yard: Yard | undefined): Tasks {
  const hints = yard && readerHints(yard)
  return {
    read(file) {
      const note = noteForLogbook(file, hints)
      const doubtful = placedReadings(note.record).filter(({ reading }) => reading.flag !== 'sure').length
      return { rows: noteRows(note), words: note.text.split(/\s+/).length, doubtful }
    },
    reread({ file, reader, record: packed, corrections }) {
      const note = noteForLogbook(file, hints)
      const known = knownCorrections(corrections).corrections
      const { record, orphaned } = applyCorrections(note.record, known, note.text)
      const before = unpack<InspectionRecord>(packed)
      const isSame = reader === note.reader && JSON.stringify(before) === JSON.stringify(record)
      return {
        rows: isSame ? undefined : noteRows(note),
        changes: changesBetween(before, record),
        orphaned: orphaned.length,
      }
    },
    judge({ record: packed, history }) {
      const record = unpack<InspectionRecord>(packed)
      const findings = judge(
        record,
        history.map((one) => JSON.parse(one)),
        yard,
      )
      const visited = [null, ...record.hives.map(({ hive }) => hive)]
      const withdrawals = withdrawalQuestions(record)
      return {
        ...findingRows(findings),
        urgent: findings
          .filter(({ verdict }) => verdict === 'urgent')
          .map(({ place, says }) => ({ hive: place.hive, what: says.what })),
        asks: visited.map((hive) => ({
          hive,
          asks: [
            ...findings
              .filter(({ place }) => place.hive === hive)
              .flatMap(({ missing }) => missing.filter(({ priority }) => priority === 'first').map(({ ask }) => ask)),
            ...(hive === null ? [] : (withdrawals.get(hive) ?? [])),
          ],
        })),
      }
    },
  }
}

/** What one reading has and the other has not, by place, field and value. */
function changesBetween(old: InspectionRecord, fresh: InspectionRecord): string[] {
  const lines = (record: InspectionRecord) =>
    new Set(
      placedReadings(record).map(({ hive, box, frame, reading }) => {
        const place = [hive && `hive ${hive}`, box, frame !== null && `frame ${frame}`, reading.side].filter(Boolean)
        return `${[...place, reading.field].join(', ')}: ${JSON.stringify(reading.value)}`
      }),
    )
  const [before, after] = [lines(old), lines(fresh)]
  const gone = [...before].filter((line) => !after.has(line)).map((line) => `- ${line}`)
  return [...gone, ...[...after].filter((line) => !before.has(line)).map((line) => `+ ${line}`)]
}
