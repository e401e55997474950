import { randomUUID } from 'node:crypto'
import { applyCorrections } from '../../corrections/apply.ts'
import { type Correction, type CorrectionBody, stamped } from '../../corrections/correction.ts'
import type { Logbook, Note } from '../../logbook/logbook.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import { appendCorrections } from '../corrections-file.ts'
import { correctionsOf, keepCorrections } from '../logbooks.ts'

/** One note on the desk: what was read, what was put right so far, and where the next correction goes. */
export interface Desk {
  readonly name: string
  /** The note's file; its recording may lie beside it. */
  readonly path: string
  readonly text: string
  /** As the reader gave it. */
  readonly read: InspectionRecord
  readonly history: readonly InspectionRecord[]
  readonly corrections: readonly Correction[]
  /** As it stands now. */
  record(): InspectionRecord
  /** Those that find their words no more. */
  orphaned(): readonly { readonly correction: Correction }[]
  /** Keeps these, all or none, before it returns. Gives their ids. */
  save(bodies: readonly CorrectionBody[]): Promise<string[]>
}

interface Opened extends Omit<Desk, 'record' | 'save' | 'orphaned'> {
  readonly who: string
  keep(fresh: readonly Correction[]): Promise<void>
}

function desk({ who, keep, corrections: before, ...rest }: Opened): Desk {
  const corrections = [...before]
  let now: ReturnType<typeof applyCorrections> | undefined
  const applied = () => {
    now ??= applyCorrections(rest.read, corrections, rest.text)
    return now
  }
  return {
    ...rest,
    corrections,
    record: () => applied().record,
    orphaned: () => applied().orphaned,
    async save(bodies) {
      const at = new Date().toISOString()
      const fresh = bodies.map((body) => stamped(body, { id: randomUUID(), at, who }))
      await keep(fresh)
      corrections.push(...fresh)
      now = undefined
      return fresh.map(({ id }) => id)
    },
  }
}

/** A note by itself: its corrections lie beside it. */
export const noteDesk = (given: Omit<Opened, 'keep' | 'history'>): Desk =>
  desk({ ...given, history: [], keep: (fresh) => appendCorrections(given.path, fresh) })

/** A note of a logbook: its corrections are kept there. */
export async function logbookDesk(book: Logbook, note: Note, who: string): Promise<Desk> {
  const { text, record: read } = await book.asRead(note.id)
  const corrections = await correctionsOf(book, note.id)
  const history = await book.history(note.record, note.date)
  const { name, path } = note
  return desk({
    ...{ name, path, text, history, corrections, who },
    // The day of a note counts for its rules, where the note itself does not say it.
    read: { ...read, date: read.date ?? note.date },
    keep: (fresh) => keepCorrections(book, note.id, fresh),
  })
}
