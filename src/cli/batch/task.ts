import type { Waiting } from '../../logbook/logbook.ts'
import { unpack } from '../../logbook/packed.ts'
import { type FindingRows, findingRows, type NoteRows, noteRows } from '../../logbook/rows.ts'
import { placedReadings } from '../../record/schema.ts'
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

/** The work of a night run that computes and touches nothing: on this thread or on another it gives the same. */
export interface Tasks {
  read(file: NoteFile): ReadNote
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
    judge({ record: packed, history }) {
      const record = unpack<Parameters<typeof judge>[0]>(packed)
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
            ...(hive === null ? [] : [withdrawals.get(hive) ?? []].flat()),
          ],
        })),
      }
    },
  }
}
