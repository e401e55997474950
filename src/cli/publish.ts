import { copyFile, mkdir, readdir, readFile, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { CombscribeError } from '../errors.ts'

/**
 * Copies the built page into a folder that is new, empty, or holds the page of last time (told by its `generator`).
 * Gives the number of files. The worker goes last: a browser that looks in meanwhile finds all that it lists.
 */
export async function publish(from: string, to: string): Promise<number> {
  try {
    await mkdir(to, { recursive: true })
    if ((await readdir(to)).length > 0 && !(await isOurs(to))) {
      throw new CombscribeError('bad-usage', 'there are other files in this folder', to, 'name an empty one')
    }
    const files = await filesIn(from)
    const order = (name: string) => ['index.html', 'service-worker.js'].indexOf(name)
    for (const name of files.sort((a, b) => order(a) - order(b))) await replace(join(from, name), join(to, name))
    const old = (await filesIn(to)).filter((name) => name.startsWith('parts/') && !files.includes(name))
    for (const name of old) await rm(join(to, name))
    return files.length
  } catch (error) {
    if (error instanceof CombscribeError) throw error
    const { code = '' } = error as NodeJS.ErrnoException
    throw new CombscribeError('unreadable', `the page cannot be written (${code})`, to, 'make room or allow writing')
  }
}

const isOurs = async (folder: string): Promise<boolean> =>
  /<meta name="generator" content="combscribe"/.test(await readFile(join(folder, 'index.html'), 'utf8').catch(() => ''))

async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true })
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(join(folder, '/').length).replaceAll('\\', '/'))
}

async function replace(from: string, to: string): Promise<void> {
  await mkdir(dirname(to), { recursive: true })
  const half = `${to}.${process.pid}.part`
  try {
    await copyFile(from, half)
    await rename(half, to)
  } catch (error) {
    await rm(half, { force: true })
    throw error
  }
}
