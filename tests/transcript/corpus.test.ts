import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { openTranscript } from '../../src/transcript/open.ts'

const folder = new URL('../../fixtures/corpus/tuned/', import.meta.url)
const notes = readdirSync(folder).filter((file) => !file.endsWith('.gold.json'))

const flat = (text: string) => text.replace(/\s+/g, ' ')

/** The labels quote what was said, so every quote has to be in the text, and in no segment that is doubted. */
test.each(notes)('the labels of %s quote its text', (file) => {
  const { text, segments, format } = openTranscript(readFileSync(new URL(file, folder)), file)
  const expected = { txt: 'plain', srt: 'srt', vtt: 'webvtt', json: 'openai-verbose' }[file.replace(/^.*\./, '')]
  expect(format).toBe(expected)
  const gold = JSON.parse(readFileSync(new URL(file.replace(/\.\w+$/, '.gold.json'), folder), 'utf8')) as {
    facts: { quote: string }[]
  }
  let kept = text
  for (const { start, end, suspect } of segments) {
    if (suspect) kept = kept.slice(0, start) + ' '.repeat(end - start) + kept.slice(end)
  }
  const missing = gold.facts.map(({ quote }) => quote).filter((quote) => !flat(kept).includes(flat(quote)))
  expect(missing).toEqual([])
})
