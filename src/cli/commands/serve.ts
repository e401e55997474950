import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { CombscribeError } from '../../errors.ts'
import type { Logbook } from '../../logbook/logbook.ts'
import { createApp } from '../../web-server/app.ts'
import { listen } from '../../web-server/listen.ts'
import { readPageFiles } from '../../web-server/page-files.ts'
import { readYard } from '../files.ts'
import { logbookOption, openBook } from '../logbooks.ts'
import { openInBrowser } from '../open-in-browser.ts'
import { noFiles, oneOf, readOptions, usage } from '../options.ts'
import { pageServices } from '../page-services.ts'
import { publish } from '../publish.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe serve`: the page on this machine until Ctrl-C, or its files into a folder for a host. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('serve', args, {
    port: { type: 'string', default: '4418' },
    yard: { type: 'string' },
    logbook: { type: 'string' },
    open: { type: 'string', default: 'no' },
    to: { type: 'string' },
  })
  noFiles('serve', positionals)
  const opens = oneOf('serve', 'open', values.open, ['yes', 'no'])
  const folder = builtPage()
  if (values.to !== undefined) {
    const count = await publish(folder, values.to)
    terminal.out(`${values.to}: the page in ${count} files; any web host can serve this folder.\n`)
    return 0
  }
  const port = portOption(values.port)
  const yard = await readYard(values.yard, terminal)
  const book = await logbookOf(values.logbook)
  const ending = new AbortController()
  try {
    const report = (sentence: string): void => terminal.err(`combscribe: ${sentence}\n`)
    const services = { ...pageServices(yard, book, report), ending: ending.signal }
    const files = await readPageFiles(folder)
    const server = await listen((at) => createApp(files, services, at), port)
    const address = `http://localhost:${server.port}/`
    terminal.out(`Combscribe is at ${address} on this machine only; Ctrl-C ends it.\n`)
    if (opens === 'yes') openInBrowser(address)
    await interrupted()
    ending.abort()
    await server.close()
  } finally {
    await book?.close()
  }
  return 0
}

/** The logbook that is named, made if need be; else the one that lies here, if one does. */
async function logbookOf(where: string | undefined): Promise<Logbook | undefined> {
  if (where !== undefined) return openBook(where)
  const usual = logbookOption.logbook.default
  return existsSync(usual) ? openBook(usual) : undefined
}

/** The page as it was built, beside the program or (seen from one of its parts) a folder above. */
function builtPage(): string {
  const found = ['./web', '../web']
    .map((path) => fileURLToPath(new URL(path, import.meta.url)))
    .find((path) => existsSync(`${path}/index.html`))
  if (found) return found
  throw new CombscribeError('missing-file', 'the built page is missing', 'web', 'run npm run build')
}

function portOption(given: string): number {
  const port = /^\d{1,5}$/.test(given) ? Number(given) : Number.NaN
  if (!(port <= 65_535)) throw usage('serve', `--port takes a number up to 65535, not "${given}"`)
  return port
}

const interrupted = (): Promise<void> =>
  new Promise((resolve) => {
    process.once('SIGINT', () => resolve())
    process.once('SIGTERM', () => resolve())
  })
