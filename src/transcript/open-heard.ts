import { heard } from './formats/heard.ts'
import { readJson } from './json-values.ts'
import { needSpeech } from './need-speech.ts'
import type { Transcript } from './transcript.ts'

/**
 * Opens what a live visit is kept as, without the code of the other formats: the same transcript as `openTranscript` gives.
 * Throws a `CombscribeError` where nothing was said.
 */
export function openHeard(text: string, name: string): Transcript {
  const json = text.trim() === '' ? undefined : readJson(text, name)
  const opened = heard.open({ name, text, ...(json && { json: json.values }) }, {})
  needSpeech(opened, heard, name)
  return { name, format: heard.id, ...opened }
}
