import { openaiVerbose } from './formats/openai-verbose.ts'
import { plain } from './formats/plain.ts'
import { srt } from './formats/srt.ts'
import { stamped } from './formats/stamped.ts'
import { webvtt } from './formats/webvtt.ts'
import type { Format } from './source.ts'

/** Every format, the more particular before the more general: the first whose `detect` says yes opens the file. */
export const formats: readonly Format[] = [openaiVerbose, webvtt, srt, stamped, plain]
