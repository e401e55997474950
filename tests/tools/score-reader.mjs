// Reads labelled notes with dist/ on a thread of its own, for score.mjs.
import { parentPort } from 'node:worker_threads'
import { flatten, openTranscript, readNote } from '../../dist/index.js'

/** Lower case, no punctuation, one line: what many recognisers write. Points and dashes inside a number stay. */
const bare = (text) =>
  text
    .toLowerCase()
    .replace(/(?<!\d)[.,:-]|[.,:-](?!\d)/g, ' ')
    .replace(/[;!?…"“”()[\]—–]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()

function spoken(bytes, source) {
  const transcript = openTranscript(bytes, source)
  return transcript.segments.map(({ start, end }) => transcript.text.slice(start, end)).join(' ')
}

parentPort.on('message', ({ notes, isBare }) => {
  const readings = []
  let failed = null
  for (const { gold, source, bytes } of notes) {
    const input = isBare ? bare(spoken(bytes, source)) : openTranscript(bytes, source)
    try {
      readings.push([gold.note, flatten(readNote(input, { name: gold.note, date: gold.date }))])
    } catch (error) {
      failed = `${gold.note} cannot be read: ${error.message}`
    }
  }
  parentPort.postMessage({ readings, failed })
})
