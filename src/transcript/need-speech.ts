import { CombscribeError } from '../errors.ts'
import type { Format, Opened } from './source.ts'

/** Throws a `CombscribeError` where nobody speaks in what was opened. */
export function needSpeech({ segments }: Pick<Opened, 'segments'>, { title }: Format, name: string): void {
  if (segments.every(({ suspect }) => suspect === 'no-speech'))
    throw new CombscribeError('no-speech', `there is no speech in it (${title})`, name, 'record the note again')
}
