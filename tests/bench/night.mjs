// A night run from outside: how fast the logbook fills, with one core and two, early and late, and at what memory.
import { spawn, spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Sqlite from 'better-sqlite3'
import { load } from '../tools/load.mjs'

const { writeNotes } = await load('tests/generate/write.ts')

/** Peak memory of a process in MB, as Linux counts it; 0 where it is not told. */
function peak(pid) {
  try {
    return Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1024
  } catch {
    return 0
  }
}

/** Seconds of processor time that each thread of a process has used: the first is the one that writes. */
function used(pid) {
  try {
    return readdirSync(`/proc/${pid}/task`).map((thread) => {
      const fields = readFileSync(`/proc/${pid}/task/${thread}/stat`, 'utf8').split(') ')[1].split(' ')
      return (Number(fields[11]) + Number(fields[12])) / 100
    })
  } catch {
    return []
  }
}

const sum = (numbers) => numbers.reduce((a, b) => a + b, 0)

/** Debian's util-linux has it; without it one core is only asked for, and the thread that writes has the other. */
const canHold = spawnSync('taskset', ['-c', '0', 'true']).status === 0

/** Runs the command, on one core held to that core, and looks into its logbook while it is filled. */
async function watched(cli, folder, where, cores) {
  const start = performance.now()
  const command = [process.execPath, cli, 'batch', folder, '--logbook', where, '--cores', String(cores)]
  const [program, ...args] = cores === 1 && canHold ? ['taskset', '-c', '0', ...command] : command
  const child = spawn(program, args, { stdio: ['ignore', 'ignore', 'inherit'] })
  const ended = new Promise((resolve) => child.on('exit', resolve))
  const marks = []
  let [memory, cpu, threads] = [0, 0, []]
  let db
  const look = () => {
    memory = Math.max(memory, peak(child.pid))
    const now = used(child.pid)
    if (sum(now) > cpu) [cpu, threads] = [sum(now), now]
    try {
      db ??= new Sqlite(where, { readonly: true, fileMustExist: true })
      const { read, judged } = db
        .prepare('select count(*) as read, coalesce(sum(judged), 0) as judged from notes')
        .get()
      marks.push({ cpu, done: read + judged })
    } catch {
      // it is not there yet
    }
  }
  const timer = setInterval(look, 100)
  const code = await ended
  clearInterval(timer)
  db?.close()
  if (code !== 0) throw new Error(`batch ended with ${code}`)
  return { seconds: (performance.now() - start) / 1000, memory, cpu, threads, marks }
}

/** Processor time a note between two shares of all the steps (each note is read and judged). */
function perNote({ marks }, total, from, to) {
  const at = (share) => marks.find(({ done }) => done >= share * total) ?? marks.at(-1)
  const [a, b] = [at(from), at(to)]
  return (1000 * (b.cpu - a.cpu)) / Math.max(1, b.done - a.done)
}

/** Prints what a night run of `count` generated notes costs. */
export async function benchNight(cli, count) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-night-'))
  const notes = join(folder, 'notes')
  writeNotes(notes, count)
  const one = await watched(cli, notes, join(folder, 'one.db'), 1)
  const two = await watched(cli, notes, join(folder, 'two.db'), 2)
  const again = await watched(cli, notes, join(folder, 'two.db'), 2)
  const size = statSync(join(folder, 'one.db')).size / count / 1024
  const print = (what, { seconds, memory, cpu }, more = '') =>
    console.log(
      `${what.padEnd(30)}${seconds.toFixed(1).padStart(7)} s  ${(count / seconds).toFixed(0).padStart(5)} notes/s  processor ${cpu.toFixed(1)} s  peak ${memory.toFixed(0)} MB  ${more}`,
    )
  print(`${count} notes, one core`, one)
  print(`${count} notes, two cores`, two, `${(one.seconds / two.seconds).toFixed(2)} times as fast`)
  print('again, nothing changed', again, `${((100 * again.cpu) / two.cpu).toFixed(1)} % of the processor time`)
  // On a machine with other work the clock tells nothing: two cores cannot be faster than their busiest thread, nor than half
  // of all the work; one core not faster than all the work, or than its one thread where it could not be held.
  const atBest = (canHold ? one.cpu : one.threads[0]) / Math.max(two.cpu / 2, ...two.threads)
  const share = ((100 * two.threads[0]) / two.cpu).toFixed(0)
  console.log(
    `  by processor time ${atBest.toFixed(2)} times as fast; the thread that writes does ${share} % of the work`,
  )
  const tenth = (run, from) => perNote(run, 2 * count, from, from + 0.05)
  for (const [what, from, to] of [
    ['read', 0.05, 0.45],
    ['judged', 0.5, 0.95],
  ])
    console.log(
      `  a note ${what}: ${tenth(one, from).toFixed(1)} ms of the processor for the first, ${tenth(one, to).toFixed(1)} ms for the last (${(tenth(one, to) / tenth(one, from)).toFixed(2)} times)`,
    )
  console.log(`  ${size.toFixed(0)} KB of logbook a note\n`)
  rmSync(folder, { recursive: true })
}
