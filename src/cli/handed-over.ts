import type { Correction } from '../corrections/correction.ts'
import type { Logbook } from '../logbook/logbook.ts'
import { judge } from '../rules/index.ts'
import type { HandedOver, Kept } from '../web-server/services.ts'
import { readerHints, type Yard } from '../yard.ts'
import { hashOf } from './batch/folder.ts'
import { noteForLogbook } from './batch/read-note.ts'
import { correctionsOf, keepCorrections } from './logbooks.ts'
import { judgedBy } from './versions.ts'

/**
 * Keeps a visit that the page hands over as `batch` keeps a file, and judges what waits. It is known again by its name:
 * the same once more changes nothing, a new text takes the old one's place, and each correction comes in once.
 */
export async function keepHandedOver(book: Logbook, visit: HandedOver, yard: Yard | undefined): Promise<Kept> {
  const bytes = new TextEncoder().encode(visit.text)
  const hash = hashOf(bytes)
  const path = pathOf(visit)
  const known = await book.known()
  const before = [...known.keys()].find((one) => isOf(one, visit)) ?? (await sameFile(book, known, hash, visit.date))
  let kept: Kept['kept'] = before === undefined ? 'new' : 'same'
  const isFile = before !== undefined && !before.startsWith(folder)
  if (before !== undefined && before !== path && !isFile) {
    await book.rename(before, path)
    kept = 'changed'
  }
  if (!isFile && (before !== path || known.get(before) !== hash)) {
    // The day stands in the path, so that a later reading anew finds it there.
    await book.write(noteForLogbook({ path, hash, bytes, modified: new Date() }, yard && readerHints(yard)))
    if (before !== undefined) kept = 'changed'
  }
  const { id } = (await book.at(isFile ? before : path))!
  if ((await bring(book, id, visit.corrections)) > 0 && kept === 'same') kept = 'changed'
  await book.judgeWaiting((record, history) => judge(record, history, yard), judgedBy)
  return { kept, findings: await book.findings(id) }
}

/** Where notes of the page stand in a logbook, beside the paths of files. */
const folder = 'page/'
const isOf = (path: string, { name }: HandedOver): boolean =>
  path === `${folder}${name}.txt` || (/^page\/\d{4}-\d\d-\d\d /.test(path) && path.slice(16) === `${name}.txt`)
const pathOf = ({ name, date }: HandedOver): string =>
  name.startsWith(date) ? `${folder}${name}.txt` : `${folder}${date} ${name}.txt`

/** `batch` may have found the same note as a file and taken the page's for it. */
async function sameFile(
  book: Logbook,
  known: ReadonlyMap<string, string>,
  hash: string,
  date: string,
): Promise<string | undefined> {
  for (const [path, of] of known) {
    if (of !== hash || path.startsWith(folder)) continue
    const there = await book.at(path)
    if (there && (await book.note(there.id))?.date === date) return path
  }
  return undefined
}

async function bring(book: Logbook, id: number, corrections: readonly Correction[]): Promise<number> {
  const there = new Set((await correctionsOf(book, id)).map((one) => one.id))
  const fresh = corrections.filter((one) => !there.has(one.id))
  if (fresh.length > 0) await keepCorrections(book, id, fresh)
  return fresh.length
}
