import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'
import { isTable } from './ctm.ts'

const ROW = /^(.*\S)[ \t]+\([\w.-]*\d[\w.-]*\)[ \t]*$/

/** NIST trn: words, then the utterance's name in brackets, a line each. Neither times nor confidence. */
export const trn: Format = {
  id: 'trn',
  title: 'NIST trn',
  detect: ({ text, json }) => !json && isTable(text, (line) => ROW.test(line)),
  open: ({ text }) => layOut(text.split(/\r\n|\n|\r/).map((line) => ({ text: ROW.exec(line)?.[1] ?? line }))),
}
