import { fieldInfo, fieldNames } from '../record/fields.ts'
import { sayField } from './words.ts'

const plain = (words: string): string => words.toLowerCase().replace(/[^a-z0-9]/g, '')

/** A field by its name or as a keeper calls it: `frames.brood`, `frames of brood`. */
export function fieldCalled(typed: string): string | undefined {
  const asked = typed.trim()
  if (fieldInfo(asked)) return asked
  return fieldNames().find((name) => plain(name) === plain(asked) || plain(sayField(name)) === plain(asked))
}

/** Up to six fields whose name holds what was typed, as a keeper calls them; the first ones where none does. */
export function fieldsNear(typed: string): string {
  const asked = plain(typed)
  const near = fieldNames().filter((name) => asked !== '' && plain(`${name} ${sayField(name)}`).includes(asked))
  return (near.length > 0 ? near : fieldNames()).slice(0, 6).map(sayField).join(', ')
}
