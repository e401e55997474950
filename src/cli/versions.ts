import { version } from './help.ts'

/** Put in by the build: the first digits of the hash of what reads and of what judges. */
declare const COMBSCRIBE_READER: string | undefined
declare const COMBSCRIBE_RULES: string | undefined

/** What a note was read by: it changes with every line of the grammar. */
export const readBy = `${version}, grammar ${typeof COMBSCRIBE_READER === 'string' ? COMBSCRIBE_READER : 'of the source'}`

/** What a note was judged by: it changes with every rule. */
export const judgedBy = `${version}, rules ${typeof COMBSCRIBE_RULES === 'string' ? COMBSCRIBE_RULES : 'of the source'}`
