// Nets that remember are learned with PyTorch (Debian's python3-torch, with libopenblas0 many times as fast as without).
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync, writeFileSync } from 'node:fs'

/** Debian's own, which sees Debian's packages. */
const PYTHON = '/usr/bin/python3'

/** Runs a script of this folder; compiled scripts are not left beside it (-B). */
async function run(script, ...options) {
  const path = new URL(script, import.meta.url).pathname
  const child = spawn(PYTHON, ['-B', path, ...options.map(String)], { stdio: ['ignore', 'inherit', 'inherit'] })
  const [code] = await once(child, 'close')
  if (code !== 0)
    throw new Error(`${script} stopped with ${code}; it needs Debian's packages python3-torch and libopenblas0.`)
}

/** The same of a script that writes what it learned to `out`; gives it: lists of numbers as such, words with their rows. */
export async function learnedBy(script, data, out, ...options) {
  await run(script, data, out, ...options)
  const learned = JSON.parse(readFileSync(out, 'utf8'))
  const isNumbers = (value) => Array.isArray(value) && typeof value[0] === 'number'
  const lists = Object.entries(learned).filter(([, value]) => isNumbers(value))
  return {
    ...learned,
    ...Object.fromEntries(lists.map(([name, value]) => [name, Float32Array.from(value)])),
    words: new Map(learned.words.map((word, i) => [word, i + 1])),
  }
}

/**
 * What PyTorch makes of some talk with a net as it ships, its numbers rounded: the tests compare ours with it. `shipped` is the file that
 * is handed to the script; `talk`: the talk, by the name under which it looks for it.
 */
export async function writeReference(script, { words, ...net }, talk, shipped, fixture) {
  const lists = Object.entries(net).map(([name, value]) => [name, ArrayBuffer.isView(value) ? [...value] : value])
  writeFileSync(shipped, JSON.stringify({ ...Object.fromEntries(lists), words: [...words.keys()], ...talk }))
  await run(script, shipped, fixture)
}
