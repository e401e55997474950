/** Put in by the build from package.json. */
declare const COMBSCRIBE_VERSION: string | undefined
export const version = typeof COMBSCRIBE_VERSION === 'string' ? COMBSCRIBE_VERSION : '0.0.0-source'

/** What `--help` prints, by command; `""` is the overview. Plain text: it must cost no start-up time. */
export const help: Record<string, string> = {
  '': `combscribe: from what was said at the hive to an inspection record.

  combscribe read FILE...     read dictated notes (any speech-to-text output)
  combscribe judge RECORD...  run the readiness and alert rules on saved records
  combscribe rules            print the rulebook with its numbers and sources
  combscribe schema           print the JSON Schema of a record
  combscribe hints            print words and phrases that help a speech recogniser

  combscribe COMMAND --help   more on one command
  combscribe --version

Exit codes: 0 done, 1 some inputs could not be read, 2 wrong use.
`,
  read: `combscribe read FILE... [--date YYYY-MM-DD] [--yard FILE] [--as FORMAT] [--why FIELD]

Reads dictated notes: plain text, time-stamped text, subtitles or a recogniser's
JSON, known by their content. "-" is standard input. A recording (WAV and others) goes
through the recogniser that the yard file names; its transcript is kept beside it.

  --date DAY     day of the visit, where the note does not say it
  --yard FILE    names of hives and apiaries, region, own words (JSON, comments allowed)
  --as FORMAT    table    every reading with its words, for people (the default)
                 report   one screen: what to do first, what is due, what is doubtful
                 account  every stretch of the note and what became of it
                 record   the nested record as JSON
                 readings one JSON object a line
  --why FIELD    how the values of a field came about: the words, the grammar line,
                 what counted for and against. queen.seen, queen, 2:frames.brood, all
`,
  judge: `combscribe judge RECORD.json... [--yard FILE] [--as text|json]

Runs the rules on records that "read --as record" or any other program wrote.
"-" is standard input.

  --yard FILE    region, climate and rule settings
  --as FORMAT    text (the default) or json
`,
  rules: `combscribe rules [--as text|json]

Prints every rule: what it decides, its numbers with units, its sources.
`,
  schema: `combscribe schema

Prints the JSON Schema of an inspection record.
`,
  hints: `combscribe hints [--as FORM] [--yard FILE] [--dictionary FILE]

Prints what a speech recogniser should expect: the trade's words, the names of the
yard file and its own words.

  --as FORM      phrases  one a line, for phrase lists and key terms (the default)
                 words    single words, those that engines lack first
                 prompt   a short text, for engines that take a prompt
                 jsgf     a grammar, JSpeech Grammar Format
                 srgs     the same as W3C SRGS 1.0 in XML
  --yard FILE    names of hives and apiaries, own words
  --dictionary FILE  the recogniser's pronouncing dictionary: phrases with words that
                 it lacks are left out of the grammar

A grammar forces whatever was said into its phrases and makes wrong counts look
certain: prefer phrases, words or a prompt where the engine takes them.
`,
}
