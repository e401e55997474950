// Lays what was learned of clauses and calls into one file for the command, as the numbers it is reckoned with: unpacking
// them out of their letters is what every start would wait for.
import { writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import { unpackLearned } from './kept-learned.mjs'
import { load } from './load.mjs'

/** An esbuild plugin: the command takes what was learned from the file that `writeLearned` writes. */
export const keepLearned = {
  name: 'keep-learned',
  setup(build) {
    build.onResolve({ filter: /fitted[\\/]fitted\.ts$/ }, () => ({
      path: resolve(import.meta.dirname, 'kept-fitted.mjs'),
    }))
  },
}

/** Writes the file; throws where reading it would not give the very same numbers. */
export async function writeLearned(path) {
  const learned = await (await load('tests/tools/learned-inside.mjs')).learned()
  const arrays = []
  const shape = JSON.stringify(learned, (_, value) => {
    if (value instanceof Map) return { first: value.values().next().value, names: [...value.keys()].join(' ') }
    if (!ArrayBuffer.isView(value)) return value
    arrays.push(value)
    return { type: value.constructor.name, at: arrays.length - 1, length: value.length }
  })
  // wide numbers first, so that each list begins where its numbers may
  const order = [...arrays].sort((a, b) => b.BYTES_PER_ELEMENT - a.BYTES_PER_ELEMENT)
  let at = 0
  const places = new Map(
    order.map((array) => {
      const place = at
      at += array.byteLength
      return [arrays.indexOf(array), place]
    }),
  )
  const header = Buffer.from(shape.replace(/"at":(\d+)/g, (_, n) => `"at":${places.get(Number(n))}`))
  const bytes = Buffer.concat([
    ...order.map(({ buffer, byteOffset, byteLength }) => Buffer.from(buffer, byteOffset, byteLength)),
    header,
    Buffer.from(Uint32Array.of(header.length).buffer),
  ])
  if (!isDeepStrictEqual(unpackLearned(bytes), learned)) throw new Error(`${path} does not say what was learned`)
  writeFileSync(path, bytes)
}
