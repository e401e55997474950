import { openLogbook } from '../../src/logbook/open.ts'

/** All that a logbook holds, without the numbers that the database gives out. */
export async function contentOf(where: string): Promise<unknown[]> {
  const book = await openLogbook(where)
  const out: unknown[] = []
  for await (const { id, ...note } of book.notes()) out.push([note, await book.findings(id)])
  const found = await book.search(['frames'])
  const hives = await book.hives()
  await book.close()
  // What is said around a word each database cuts in its own way.
  return [out, found.map(({ path, date }) => [path, date]), hives]
}
