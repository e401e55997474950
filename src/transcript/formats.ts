import { android } from './formats/android.ts'
import { appleMemo } from './formats/apple-memo.ts'
import { appleSpeech } from './formats/apple-speech.ts'
import { assemblyai } from './formats/assemblyai.ts'
import { assemblyaiStream } from './formats/assemblyai-stream.ts'
import { awsBatch } from './formats/aws-batch.ts'
import { awsStream } from './formats/aws-stream.ts'
import { azureBatch } from './formats/azure-batch.ts'
import { azureFast } from './formats/azure-fast.ts'
import { azureSdk } from './formats/azure-sdk.ts'
import { ctm } from './formats/ctm.ts'
import { deepgram } from './formats/deepgram.ts'
import { deepgramLive } from './formats/deepgram-live.ts'
import { elevenlabs } from './formats/elevenlabs.ts'
import { google } from './formats/google.ts'
import { heard } from './formats/heard.ts'
import { huggingFace } from './formats/hugging-face.ts'
import { kaldi } from './formats/kaldi.ts'
import { lrc } from './formats/lrc.ts'
import { nlsml } from './formats/nlsml.ts'
import { openaiDiarized } from './formats/openai-diarized.ts'
import { openaiStream } from './formats/openai-stream.ts'
import { openaiText } from './formats/openai-text.ts'
import { openaiVerbose } from './formats/openai-verbose.ts'
import { otranscribe } from './formats/otranscribe.ts'
import { plain } from './formats/plain.ts'
import { pocketsphinx } from './formats/pocketsphinx.ts'
import { pocketsphinxTime } from './formats/pocketsphinx-time.ts'
import { revai } from './formats/revai.ts'
import { sbv } from './formats/sbv.ts'
import { speechmatics } from './formats/speechmatics.ts'
import { srt } from './formats/srt.ts'
import { stamped } from './formats/stamped.ts'
import { stm } from './formats/stm.ts'
import { trn } from './formats/trn.ts'
import { ttml } from './formats/ttml.ts'
import { vosk } from './formats/vosk.ts'
import { watson } from './formats/watson.ts'
import { webSpeech } from './formats/web-speech.ts'
import { webvtt } from './formats/webvtt.ts'
import { whisper } from './formats/whisper.ts'
import { whisperCpp } from './formats/whisper-cpp.ts'
import { whisperTable } from './formats/whisper-table.ts'
import { whisperTimestamped } from './formats/whisper-timestamped.ts'
import { whisperx } from './formats/whisperx.ts'
import type { Format } from './source.ts'

/** Every format, the more particular before the more general: the first whose `detect` says yes opens the file. */
export const formats: readonly Format[] = [
  heard,
  openaiStream,
  openaiDiarized,
  whisperx,
  whisperTimestamped,
  whisperCpp,
  whisper,
  openaiVerbose,
  huggingFace,
  azureBatch,
  azureFast,
  azureSdk,
  awsBatch,
  awsStream,
  deepgram,
  deepgramLive,
  watson,
  speechmatics,
  webSpeech,
  google,
  revai,
  assemblyaiStream,
  assemblyai,
  elevenlabs,
  vosk,
  pocketsphinx,
  appleMemo,
  appleSpeech,
  android,
  otranscribe,
  openaiText,
  webvtt,
  ttml,
  nlsml,
  srt,
  sbv,
  lrc,
  whisperTable,
  pocketsphinxTime,
  ctm,
  stm,
  stamped,
  kaldi,
  trn,
  plain,
]
