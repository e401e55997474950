/**
 * Lines that recognisers invent in silence, wind and music, collected from public issue threads of several engines. The
 * first list is never said at a hive; the second may be said to a helper, and counts only beside silence.
 */
const never = [
  /^(?:thanks|thank you)(?: so| very)?(?: much)? for (?:watching|listening|viewing)(?: this video| the video)?$/,
  /^(?:please |and |don't forget to |like and |like comment and |remember to )*(?:like and )?subscribe(?: to (?:my|our|the) channel)?$/,
  /^(?:i'll |i will )?see you (?:all )?(?:in the|in my|in our) next (?:video|one|episode)$/,
  /^(?:subtitles?|subtitling|captions?|captioning|transcription|transcripts?|translation|translated|subtitled)(?: (?:created|made|provided|done))? by .{1,60}$/,
  /^(?:copyright|©|all rights reserved|transcript ©).{0,60}$/,
  /^www .{1,60}$|^.{0,40}amara org.{0,40}$/,
]
const beside = [
  /^(?:thank you|thanks)(?: so much| very much| a lot)?(?: everyone| everybody| all)?$/,
  /^(?:bye|goodbye|good bye|see you|see you next time|see you later|you|so|okay bye|the end|peace)$/,
]

export type SignOff = 'never' | 'beside'

/** Judges a whole segment; said several times over it is the same line. */
export function signOff(words: string): SignOff | undefined {
  const text = once(words)
  if (never.some((line) => line.test(text))) return 'never'
  return beside.some((line) => line.test(text)) ? 'beside' : undefined
}

/** "bye bye bye" → "bye". */
function once(words: string): string {
  const list = words.split(' ')
  for (let size = 1; size <= Math.min(8, list.length / 2); size++) {
    if (list.length % size === 0 && list.every((word, index) => word === list[index % size]))
      return list.slice(0, size).join(' ')
  }
  return words
}

/** Sounds in brackets, notes of music, and what recognisers write for nothing at all. */
export const isSound = (text: string): boolean => /^[\s♪♫🎵.…-]*$/u.test(text) || SOUNDS.test(text)

const SOUNDS =
  /^(?:[\s.]*[[(*♪♫]\s*(?:blank[_ ]?audio|music(?: playing)?|applause|silence|noise|wind(?: blowing)?|background noise|inaudible|buzzing|bees buzzing|sound|laughter|laughs|coughs?|coughing|beep|static|no speech|speech)\s*[\])*♪♫])+[\s.]*$/i
