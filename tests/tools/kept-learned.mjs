// The command's half of keep-learned.mjs.

const TYPES = { Uint8Array, Int8Array, Uint16Array, Uint32Array, Float32Array, Float64Array }

/** What was learned, out of the bytes of its file: lists of numbers, and at the end how they hang together and how long that is. */
export function unpackLearned(bytes) {
  const { buffer, byteOffset } = bytes
  const end = bytes.length - 4
  const length = bytes.readUInt32LE(end)
  return JSON.parse(bytes.toString('utf8', end - length, end), (_, value) => {
    if (value?.names !== undefined) return new Map(value.names.split(' ').map((name, i) => [name, value.first + i]))
    return TYPES[value?.type] ? new TYPES[value.type](buffer, byteOffset + value.at, value.length) : value
  })
}
