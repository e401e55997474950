import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import type { Correction } from '../../corrections/correction.ts'

/** A visit as it is kept on this machine. */
export interface VisitRow {
  readonly id: string
  /** The note's name in the logbook. */
  readonly name: string
  /** ISO day of the visit, by the clock of this machine. */
  readonly date: string
  /** ISO date and time at which it was begun. */
  readonly begun: string
  /** How many utterances and corrections are kept of it. */
  readonly utterances: number
  readonly corrections: number
  /** A transcript that was brought in from a file or pasted; what is spoken later stands behind it. */
  readonly brought: { readonly name: string; readonly text: string } | null
  /** What the logbook has of it; null: nothing yet. */
  readonly handed: { readonly at: string; readonly utterances: number; readonly corrections: number } | null
}

/** Where an utterance came from. */
export type Source = 'recognised' | 'recorded' | 'typed'

export interface SaidRow {
  readonly visit: string
  /** 0, 1, 2, … in the order in which it was kept. */
  readonly seq: number
  readonly text: string
  /** The same as the reader keeps it, to go on from: one line of the visit's transcript. */
  readonly line: string
  readonly at: string
  readonly by: Source
  /** The page ended before the recogniser had settled these words. */
  readonly unfinished?: true
}

/** What a recogniser has heard so far of the sentence that is being spoken. */
export interface HearingRow {
  readonly visit: string
  readonly text: string
  readonly at: string
}

export interface CorrectionRow {
  readonly visit: string
  readonly seq: number
  readonly body: Correction
}

/** A stretch of recorded sound that no recogniser has written down yet; its parts are kept as they come. */
export interface SoundRow {
  readonly id: string
  readonly visit: string
  readonly at: string
  readonly mime: string
}

export interface SoundPart {
  readonly sound: string
  readonly seq: number
  readonly bytes: ArrayBuffer
}

interface Schema extends DBSchema {
  visits: { key: string; value: VisitRow }
  said: { key: [string, number]; value: SaidRow }
  hearing: { key: string; value: HearingRow }
  corrections: { key: [string, number]; value: CorrectionRow }
  sounds: { key: string; value: SoundRow; indexes: { visit: string } }
  parts: { key: [string, number]; value: SoundPart }
  /** Settings, and the last answers of the home machine for the time without it. */
  kept: { key: string; value: unknown }
}

export type Database = IDBPDatabase<Schema>

/** Opens the page's database. Another tab with an older page lets go of it by itself. */
export const openDatabase = (): Promise<Database> =>
  openDB<Schema>('combscribe', 1, {
    upgrade(db) {
      db.createObjectStore('visits', { keyPath: 'id' })
      db.createObjectStore('said', { keyPath: ['visit', 'seq'] })
      db.createObjectStore('hearing', { keyPath: 'visit' })
      db.createObjectStore('corrections', { keyPath: ['visit', 'seq'] })
      db.createObjectStore('sounds', { keyPath: 'id' }).createIndex('visit', 'visit')
      db.createObjectStore('parts', { keyPath: ['sound', 'seq'] })
      db.createObjectStore('kept')
    },
    blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
  })

/** Written to the disk before it counts as done: a phone's battery may be dead a second later. */
export const lasting = { durability: 'strict' } as const

/** All rows of a visit (or sound) in a store whose key begins with it. */
export const rowsOf = (id: string): IDBKeyRange => IDBKeyRange.bound([id, 0], [id, Number.POSITIVE_INFINITY])
