import { CombscribeError } from '../errors.ts'
import { heard } from './formats/heard.ts'
import { readJson } from './json-values.ts'
import type { Transcript } from './transcript.ts'

/**
 * Opens what a live visit is kept as, without the code of the other formats: the same transcript as `openTranscript` gives.
 * Throws a `CombscribeError` where nothing was said.
 */
export function openHeard(text: string, name: string): Transcript {
  const json = text.trim() === '' ? undefined : readJson(text, name)
  const opened = heard.open({ name, text, ...(json && { json: json.values }) }, {})
  if (opened.segments.every(({ suspect }) => suspect === 'no-speech'))
    throw new CombscribeError('no-speech', `there is no speech in it (${heard.title})`, name, 'record the note again')
  return { name, format: heard.id, ...opened }
}
