/** How speakers differ: what they call a hive, how they join and close sentences, how much they talk beside the matter. */
export interface Voice {
  readonly name: string
  /** `{h}` is the label as said. */
  readonly calls: readonly string[]
  readonly opens: readonly string[]
  readonly closes: readonly string[]
  /** What stands before a sentence now and then. */
  readonly fillers: readonly string[]
  readonly filling: number
  /** How often something is said that is no reading. */
  readonly asides: number
  /** How often a number is said wrong first and taken back. */
  readonly slips: number
  readonly numbers: 'figures' | 'words'
  /** `bare`: without capitals and punctuation, as many recognisers write. */
  readonly writing: 'punctuated' | 'bare'
  /** Whether the day is said. */
  readonly says: number
}

export const VOICES: readonly Voice[] = [
  {
    name: 'brisk, figures',
    calls: ['hive {h}', 'hive {h} now', 'hive number {h}'],
    opens: ['inspection', 'notes for today', 'starting'],
    closes: ['done', 'that is all'],
    fillers: [],
    filling: 0,
    asides: 0,
    slips: 0.02,
    numbers: 'figures',
    writing: 'punctuated',
    says: 0.8,
  },
  {
    name: 'chatty, words',
    calls: ['right, hive {h}', 'okay so this is hive {h}', 'on to hive {h}', "let's look at hive {h}"],
    opens: ['okay, here we go', "right, I'm at the bees", 'hello, another round of the hives'],
    closes: ["that's me done for today", "and that's it, home", 'all closed up'],
    fillers: ['so', 'well', 'and', 'um', 'righto', 'okay', 'yeah'],
    filling: 0.4,
    asides: 0.15,
    slips: 0.1,
    numbers: 'words',
    writing: 'punctuated',
    says: 0.6,
  },
  {
    name: 'run on, bare',
    calls: ['hive {h}', 'next one hive {h}', 'now hive {h}'],
    opens: ['right then', 'so here goes'],
    closes: ['thats all for now', 'finished'],
    fillers: ['and', 'then', 'so', 'um', 'er'],
    filling: 0.25,
    asides: 0.05,
    slips: 0.05,
    numbers: 'words',
    writing: 'bare',
    says: 0.5,
  },
  {
    name: 'careful, figures',
    calls: ['this is hive {h}', 'now opening hive {h}', 'colony {h}', 'hive {h}'],
    opens: ['inspection record', 'visit to the apiary'],
    closes: ['end of inspection', 'end of the visit'],
    fillers: ['now', 'next'],
    filling: 0.1,
    asides: 0.02,
    slips: 0.04,
    numbers: 'figures',
    writing: 'punctuated',
    says: 0.9,
  },
  {
    name: 'teaching, words',
    calls: ['so this is hive {h}', 'now then, hive {h}', 'and hive {h}'],
    opens: ['gather round', "okay everyone, let's have a look"],
    closes: ["right, that's enough for one day", 'thanks everybody'],
    fillers: ['so', 'now', 'look', 'see'],
    filling: 0.3,
    asides: 0.35,
    slips: 0.06,
    numbers: 'words',
    writing: 'punctuated',
    says: 0.3,
  },
]
