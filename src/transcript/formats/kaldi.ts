import { isFiller } from '../fillers.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'
import { isTable } from './ctm.ts'

/** An utterance's name has a hyphen or underscore and a number at its end: `keeper-hive03-0001`. */
const ROW = /^([\w.]+[-_][\w.-]*\d)[ \t]+(\S.*)$/

/** Kaldi's `text` file: the utterance's name, then its words. Neither times nor confidence. */
export const kaldi: Format = {
  id: 'kaldi',
  title: 'Kaldi text',
  detect: ({ text, json }) => !json && isTable(text, (line) => ROW.test(line)),
  open({ text }) {
    const rows = text.split(/\r\n|\n|\r/).map((line) => ROW.exec(line)?.[2] ?? line)
    return layOut(
      rows.map((words) => ({
        text: words
          .split(/[ \t]+/)
          .filter((word) => !isFiller(word))
          .join(' '),
      })),
    )
  },
}
