/** Put in by the build from package.json. */
declare const COMBSCRIBE_VERSION: string | undefined
export const version = typeof COMBSCRIBE_VERSION === 'string' ? COMBSCRIBE_VERSION : '0.0.0-source'

/** What `--help` prints, by command; `""` is the overview. Plain text: it must cost no start-up time. */
export const help: Record<string, string> = {
  '': `combscribe: from what was said at the hive to an inspection record.

  combscribe read FILE...     read dictated notes (any speech-to-text output)
  combscribe listen           hear a visit as it is spoken and answer at once
  combscribe fix NOTE         go through what is doubtful, one key each
  combscribe judge RECORD...  run the readiness and alert rules on saved records
  combscribe batch FOLDER     read a folder's new and changed notes into a logbook
  combscribe history [HIVE]   visits of a hive, what changed, trends
  combscribe due              what is due, by day, over all hives
  combscribe search WORDS     notes in which the words were said
  combscribe log              harvests and treatments as CSV
  combscribe reread           read the notes of a logbook again
  combscribe serve            the page for phone and screen, on this machine only
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

  --date DAY     day of the visit, where neither the note nor its name says it
  --yard FILE    names of hives and apiaries, region, own words (JSON, comments allowed)
  --as FORMAT    table    every reading with its words, for people (the default)
                 report   one screen: what to do first, what is due, what is doubtful
                 account  every stretch of the note and what became of it
                 record   the nested record as JSON
                 readings one JSON object a line
  --why FIELD    how the values of a field came about: the words, the grammar line,
                 what counted for and against. queen.seen, queen, 2:frames.brood, all
`,
  fix: `combscribe fix NOTE | --logbook FILE|postgres://... [--yard FILE] [--date DAY]
               [--who NAME] [--list]

Goes through the doubtful values of a note, or of a logbook's notes (latest first): first
what could change a finding, then hive by hive. One look shows up to nine values with
their words; Enter says that all are right, a number changes one. What an answer changes
in the findings is said at once. Everything is kept before the next look: stop when you
like (q), go back (b), skip (s). Nothing that was said is altered: corrections are a list
of their own (NOTE.corrections.jsonl, or in the logbook) and are replayed whenever the
note is read. It also asks whether labels that sound alike are one hive, and for the
withdrawal period on the label of what was treated with.

  --logbook WHERE  an SQLite file or a PostgreSQL address, instead of a note
  --yard FILE      names, region, own words; what is learned is offered as a line for it
  --date DAY       day of the visit, where neither the note nor its name says it
  --who NAME       who corrects (default: the user of the system)
  --list           print what would be asked, and ask nothing
`,
  judge: `combscribe judge RECORD.json... [--yard FILE] [--as text|json]

Runs the rules on records that "read --as record" or any other program wrote.
"-" is standard input.

  --yard FILE    region, climate and rule settings
  --as FORMAT    text (the default) or json
`,
  batch: `combscribe batch FOLDER [--logbook FILE|postgres://...] [--yard FILE] [--cores N]
                 [--watch]

Reads every new or changed note of a folder and the folders in it into a logbook,
judges each with the history of its hives, and says what is urgent and what needs
an answer. The notes themselves are left as they are. It may be stopped at any
moment: the next run goes on.

  --logbook WHERE  an SQLite file (default combscribe.db) or a PostgreSQL address
  --yard FILE      names of hives and apiaries, region, own words
  --cores N        how many cores read and judge at once (default: all)
  --watch          goes on: notes that come or change are read when they have stopped
                   growing; Ctrl-C ends it

Several of it, on one machine or many, may share a folder (by the same path) and a
PostgreSQL logbook: each note is read once, and what one leaves behind that dies is taken
up by the others.

A note's date is the one said in it, else the one in the file's name (2026-09-06),
else the one that the transcript gives for its recording, else the file's own; the
summary shows which.
`,
  history: `combscribe history [HIVE] [--logbook FILE|postgres://...]

Without a hive: the hives of the logbook. With one: its visits as rows, what
changed since the visit before, and its numbers drawn.

  --logbook WHERE  an SQLite file (default combscribe.db) or a PostgreSQL address
`,
  due: `combscribe due [--date YYYY-MM-DD] [--logbook FILE|postgres://...]

What is due over all hives, by day, from the last visit of each: what you said is
to be done, and what the rules date.

  --date DAY       as of this day, not today
  --logbook WHERE  an SQLite file (default combscribe.db) or a PostgreSQL address
`,
  search: `combscribe search WORDS... [--logbook FILE|postgres://...]

Notes in which all the words were said, in any form of the word, latest first.

  --logbook WHERE  an SQLite file (default combscribe.db) or a PostgreSQL address
`,
  log: `combscribe log [--logbook FILE|postgres://...]

Harvests and treatments as CSV, one row each, with the words they were said in.
What was not said is left empty. The withdrawal period of a treatment stands on its
label: combscribe fix --logbook asks for it.

  --logbook WHERE  an SQLite file (default combscribe.db) or a PostgreSQL address
`,
  reread: `combscribe reread [--logbook FILE|postgres://...] [--yard FILE] [--cores N]

Reads every note of the logbook again from the text kept in it, judges anew, and
prints what changed (- before, + now). Corrections are kept.

  --logbook WHERE  an SQLite file (default combscribe.db) or a PostgreSQL address
  --yard FILE      names of hives and apiaries, region, own words
  --cores N        how many cores read and judge at once (default: all)
`,
  rules: `combscribe rules [--as text|json]

Prints every rule: what it decides, its numbers with units, its sources.
`,
  listen: `combscribe listen [--date DAY] [--yard FILE] [--say COMMAND] [--to FILE]

Hears a visit as it is spoken: one utterance a line on standard input, or the JSON of a
streaming recogniser, in which partial results are passed over and revised ones replace
what was heard. Each is answered at once: the place in hand, what was understood, what is
doubtful, and alarms. On leaving a hive it names what was not said yet; at the end of the
input or at Ctrl-C, what is lacking of every hive.

Asked aloud: "what's missing", "read it back", "did I mention eggs", "what did I say about
the queen", "where are we", "what is due", "what should I do here". "Scratch that" and
"no, six" correct as in any note.

  --date DAY     the day of the visit
  --yard FILE    names of hives and other settings
  --say COMMAND  speaks the answers: any program that takes the text as its last
                 argument, for example espeak-ng
  --to FILE      keeps what is said in a new file, each utterance at once;
                 combscribe read FILE reads it like any note
`,
  serve: `combscribe serve [--port N] [--yard FILE] [--logbook WHERE] [--open yes|no]
       combscribe serve --to FOLDER

Serves the page to browsers of this machine, and to no other, until Ctrl-C: dictate,
correct, see what the rules say, hand visits over to the logbook. Nothing that is said
leaves the machine. With --to it writes the page as files that any web host can serve.

  --port N         the port (default 4418); 0 takes a free one
  --yard FILE      names of hives, own words, the recogniser that hears recordings
  --logbook WHERE  where visits are kept: an SQLite file or a PostgreSQL address
                   (default combscribe.db, if it is there)
  --open yes       opens the page in the browser
  --to FOLDER      writes the files into an empty folder, or over those of last time
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
