import type { Database } from './database.ts'

/** How the page hears. */
export type Ears = 'browser' | 'recorder' | 'none'

/** What the keeper chose on this machine. */
export interface Settings {
  /** null: not chosen yet; the page asks before the first use. */
  readonly ears: Ears | null
  readonly tones: boolean
  readonly buzz: boolean
  readonly readBack: boolean
  /** The yard file's text; empty: none. */
  readonly yard: string
}

export const firstSettings: Settings = { ears: null, tones: true, buzz: true, readBack: false, yard: '' }

/** What was chosen; whatever an older page did not know of stands as at first. */
export const loadSettings = async (db: Database): Promise<Settings> => ({
  ...firstSettings,
  ...((await db.get('kept', 'settings')) as Partial<Settings> | undefined),
})

export const saveSettings = async (db: Database, settings: Settings): Promise<void> => {
  await db.put('kept', settings, 'settings')
}
