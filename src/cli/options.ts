import { availableParallelism } from 'node:os'
import { type ParseArgsConfig, parseArgs } from 'node:util'
import { CombscribeError } from '../errors.ts'
import { isDay } from './days.ts'

type Options = NonNullable<ParseArgsConfig['options']>

/** `parseArgs` with its faults turned into one sentence that names the command. */
export function readOptions<const O extends Options>(
  command: string,
  args: readonly string[],
  options: O,
): ReturnType<typeof parseArgs<{ options: O; allowPositionals: true; strict: true }>> {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true, strict: true })
  } catch (error) {
    const said = (error as Error).message.split(/\.(?:\s|$)/)[0]!.replace(/\s+/g, ' ')
    throw usage(command, said.charAt(0).toLowerCase() + said.slice(1))
  }
}

/** For commands that take no file. */
export function noFiles(command: string, positionals: readonly string[]): void {
  if (positionals.length > 0) throw usage(command, `takes no file, and "${positionals[0]}" was given`)
}

export const usage = (command: string, what: string): CombscribeError =>
  new CombscribeError('bad-usage', what, command, `see combscribe ${command} --help`)

/** The value of an option that takes one of a few words. */
export function oneOf<const W extends string>(command: string, option: string, given: string, words: readonly W[]): W {
  const found = words.find((word) => word === given)
  if (found === undefined) throw usage(command, `--${option} takes ${words.join(', ')}, not "${given}"`)
  return found
}

/** A calendar day, checked to exist. */
export function dayOption(command: string, given: string): string {
  if (!isDay(given)) throw usage(command, `--date takes a day such as 2026-05-04, not "${given}"`)
  return given
}

/** How many cores work at once: all of them where nothing is said. */
export function coresOption(command: string, given: string | undefined): number {
  if (given === undefined) return availableParallelism()
  const cores = Number(given)
  if (!Number.isInteger(cores) || cores < 1 || cores > 256)
    throw usage(command, `--cores takes a number from 1 to 256, not "${given}"`)
  return cores
}
