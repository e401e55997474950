#!/usr/bin/env node
import { CombscribeError } from '../errors.ts'
import { help, version } from './help.ts'
import { processTerminal, type Terminal } from './terminal.ts'

type Command = { run(args: readonly string[], terminal: Terminal): Promise<number> }

/** Loaded when asked for: the reader's grammar and libraries must not slow `--help` down. */
const commands: Record<string, () => Promise<Command>> = {
  read: () => import('./commands/read.ts'),
  listen: () => import('./commands/listen.ts'),
  fix: () => import('./commands/fix.ts'),
  judge: () => import('./commands/judge.ts'),
  batch: () => import('./commands/batch.ts'),
  reread: () => import('./commands/reread.ts'),
  history: () => import('./commands/history.ts'),
  due: () => import('./commands/due.ts'),
  search: () => import('./commands/search.ts'),
  log: () => import('./commands/log.ts'),
  serve: () => import('./commands/serve.ts'),
  rules: () => import('./commands/rules.ts'),
  schema: () => import('./commands/schema.ts'),
  hints: () => import('./commands/hints.ts'),
}

/** Runs one command line and gives its exit code: 0 done, 1 some inputs could not be read, 2 wrong use. */
async function main(args: readonly string[], terminal: Terminal): Promise<number> {
  const [first = '--help', ...rest] = args
  if (first === '--version' || first === '-V') {
    terminal.out(`${version}\n`)
    return 0
  }
  const asked = first === '--help' || first === '-h' || first === 'help'
  const about = asked ? rest[0] : rest.includes('--help') || rest.includes('-h') ? first : undefined
  if (asked && about === undefined) {
    terminal.out(help['']!)
    return args.length === 0 ? 2 : 0
  }
  const name = about ?? first
  const load = Object.hasOwn(commands, name) ? commands[name] : undefined
  if (!load) throw new CombscribeError('bad-usage', `no command "${name}"`, '', 'see combscribe --help')
  if (about !== undefined) {
    terminal.out(help[name]!)
    return 0
  }
  return (await load()).run(rest, terminal)
}

const terminal = processTerminal()
try {
  process.exitCode = await main(process.argv.slice(2), terminal)
} catch (error) {
  if (error instanceof CombscribeError) {
    terminal.err(`combscribe: ${error.message.replace(/\s*\n\s*/g, '; ')}\n`)
    process.exitCode = 2
  } else {
    const said = error instanceof Error ? `${error.name}: ${error.message}` : String(error)
    terminal.err(`combscribe: a fault of the program itself (${said.replace(/\s+/g, ' ')}); please report it.\n`)
    process.exitCode = 1
  }
}
