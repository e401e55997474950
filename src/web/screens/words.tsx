import { useComputed, useSignal } from '@preact/signals'
import type { Change } from '../../corrections/after.ts'
import { type CorrectionBody, standing } from '../../corrections/correction.ts'
import { doubtfulIn, questionAbout, questionsFor } from '../../corrections/questions.ts'
import { sayHive } from '../../report/words.ts'
import { usePage } from '../page.ts'
import { Look } from '../parts/look.tsx'
import { memo } from '../parts/memo.tsx'
import { MissedForm } from '../parts/missed-form.tsx'
import { Sheet } from '../parts/sheet.tsx'
import { WholeVisit } from '../parts/whole-visit.tsx'
import { type Line, linesOf, type Piece } from '../visit/marks.ts'

/** What is open over the words: a touched piece, a line in which something was missed, the doubtful ones in turn, … */
type Open =
  | { readonly is: 'piece'; readonly piece: Piece }
  | { readonly is: 'missed'; readonly line: Line }
  | { readonly is: 'doubts' }
  | { readonly is: 'visit' }

/** The transcript with what became of its words; touched words are changed, doubtful ones gone through. */
export function Words() {
  const page = usePage()
  const visit = page.visit.value
  const open = useSignal<Open | null>(null)
  const passed = useSignal<ReadonlySet<string>>(new Set())
  const changes = useSignal<readonly Change[] | null>(null)
  const lines = useComputed(() => {
    const { transcript, record } = page.visit.value
    return linesOf(transcript.value, record.value)
  })
  const doubts = useComputed(() => doubtfulIn(page.visit.value.record.value))
  const broken = new Set(visit.said.value.filter(({ unfinished }) => unfinished).map(({ text }) => text))
  const isCorrected = standing(visit.corrections.value).length > 0
  const text = visit.transcript.value.text
  const save = async (bodies: CorrectionBody[], ids: readonly string[]): Promise<void> => {
    changes.value = await visit.correct(bodies)
    passed.value = new Set([...passed.value, ...ids])
    if (open.value?.is !== 'doubts') open.value = null
  }
  const show = (what: Open): void => {
    page.visit.value.settle()
    changes.value = null
    open.value = what
  }
  const undo = async (): Promise<void> => {
    changes.value = await visit.undo()
    passed.value = new Set()
  }
  return (
    <section class="words-screen" aria-labelledby="words-title">
      <h1 id="words-title">Words</h1>
      {lines.value.length === 0 ? (
        <p class="hint">Nothing was said in this visit yet. What you say stands here, with what was made of it.</p>
      ) : (
        <p class="legend">
          Touch marked words to see and change what they became: <span class="mark is-sure">sure</span>{' '}
          <span class="mark is-check">check ?</span> <span class="mark is-guess">a guess ??</span>
        </p>
      )}
      <Changes changes={changes.value} />
      <ol class="transcript">
        {lines.value.map((line) => (
          <LineRow
            key={line.start}
            line={line}
            isBroken={broken.has(text.slice(line.start, line.end))}
            touch={(piece) => show({ is: 'piece', piece })}
            add={() => show({ is: 'missed', line })}
          />
        ))}
      </ol>
      <div class="controls words-controls">
        <button type="button" class="strong" disabled={doubts.value === 0} onClick={() => show({ is: 'doubts' })}>
          {doubts.value === 0 ? 'No doubts' : `Check ${doubts.value}`}
          {doubts.value > 0 && <span class="unseen"> doubtful values</span>}
        </button>
        <button type="button" class="plain" disabled={!isCorrected} onClick={() => void undo()}>
          Undo
        </button>
        <button type="button" class="plain" disabled={lines.value.length === 0} onClick={() => show({ is: 'visit' })}>
          Visit<span class="unseen">: its day, labels of its hives</span>
        </button>
      </div>
      {open.value?.is === 'piece' && (
        <PieceSheet piece={open.value.piece} close={() => (open.value = null)} save={save} />
      )}
      {open.value?.is === 'missed' && (
        <Sheet title="Add what was missed" close={() => (open.value = null)}>
          <MissedForm
            line={open.value.line}
            record={visit.record.value}
            text={text}
            save={(bodies) => void save(bodies, [])}
          />
        </Sheet>
      )}
      {open.value?.is === 'visit' && (
        <Sheet title="The whole visit" close={() => (open.value = null)}>
          <WholeVisit record={visit.record.value} day={visit.row.value.date} save={(bodies) => void save(bodies, [])} />
        </Sheet>
      )}
      {open.value?.is === 'doubts' && (
        <DoubtSheet
          passed={passed.value}
          pass={(ids) => (passed.value = new Set([...passed.value, ...ids]))}
          changes={changes.value}
          close={() => (open.value = null)}
          save={save}
          undo={isCorrected ? undo : undefined}
        />
      )}
    </section>
  )
}

const MARKS = { check: ' ?', guess: ' ??' } as const

interface LineProps {
  readonly line: Line
  readonly isBroken: boolean
  readonly touch: (piece: Piece) => void
  readonly add: () => void
}

const LineRow = memo(
  function LineRow({ line, isBroken, touch, add }: LineProps) {
    return (
      <li>
        <span class="said">
          {line.pieces.map((piece) => {
            const { is, text, start } = piece
            if (is === null) return <span key={start}>{text}</span>
            if (is === 'place' || is === 'remark')
              return (
                <span key={start} class={`mark is-${is}`}>
                  {text}
                </span>
              )
            return (
              <button key={start} type="button" class={`mark is-${is}`} onClick={() => touch(piece)}>
                {text}
                {is !== 'sure' && <span class="mark-doubt">{MARKS[is]}</span>}
              </button>
            )
          })}
          {isBroken && <span class="flag flag-check">broke off here</span>}
        </span>
        <button type="button" class="add" onClick={add}>
          <span aria-hidden="true">+</span>
          <span class="unseen">Add what was missed in this line</span>
        </button>
      </li>
    )
  },
  (before, now) => before.isBroken === now.isBroken && sameLine(before.line, now.line),
)

const sameLine = (a: Line, b: Line): boolean =>
  a.start === b.start &&
  a.pieces.length === b.pieces.length &&
  a.pieces.every((piece, i) => piece.text === b.pieces[i]!.text && piece.is === b.pieces[i]!.is)

function Changes({ changes }: { changes: readonly Change[] | null }) {
  return (
    <div role="status" class="changes">
      {changes !== null &&
        (changes.length === 0 ? (
          <p>Kept. No finding changes.</p>
        ) : (
          <ul>
            {changes.map(({ rule, sentence }) => (
              <li key={`${rule} ${sentence}`}>{sentence}</li>
            ))}
          </ul>
        ))}
    </div>
  )
}

type Save = (bodies: CorrectionBody[], ids: readonly string[]) => Promise<void>

function PieceSheet({ piece, close, save }: { piece: Piece; close: () => void; save: Save }) {
  const { record, transcript } = usePage().visit.value
  const { text } = transcript.value
  const question = questionAbout(record.value, text, piece)
  return (
    <Sheet title={question ? titleOf(question.hive) : 'These words'} close={close}>
      {question ? (
        <Look
          question={question}
          record={record.value}
          text={text}
          confirms={false}
          save={(bodies) => void save(bodies, [])}
        />
      ) : (
        <p>“{piece.text}” gives no value.</p>
      )}
    </Sheet>
  )
}

const titleOf = (hive: string | null): string => {
  const words = hive === null ? 'whole visit' : sayHive(hive)
  return words.charAt(0).toUpperCase() + words.slice(1)
}

/** How many values stand in one look on a phone, and how wide a stretch of words. */
const SMALL = { rows: 3, widest: 240 }

function DoubtSheet(props: {
  passed: ReadonlySet<string>
  pass: (ids: readonly string[]) => void
  changes: readonly Change[] | null
  close: () => void
  save: Save
  undo: (() => Promise<void>) | undefined
}) {
  const { passed, pass, changes, close, save, undo } = props
  const { record, transcript, history, yard } = usePage().visit.value
  const { text } = transcript.value
  const all = questionsFor(record.value, text, { history, yard: yard?.rules, ...SMALL })
  const open = all.filter(({ rows }) => !rows.every(({ readings }) => readings.every((id) => passed.has(id))))
  const question = open[0]
  const ids = question?.rows.flatMap(({ readings }) => readings) ?? []
  const left = open.length - 1
  return (
    <Sheet title={question ? titleOf(question.hive) : 'All gone through'} close={close} closeWords="Stop">
      <Changes changes={changes} />
      {question ? (
        <>
          <p class="fine">{left === 0 ? 'The last one.' : `${left} more after this.`}</p>
          <Look
            key={question.id}
            question={question}
            record={record.value}
            text={text}
            confirms
            save={(bodies) => void save(bodies, ids)}
            skip={() => pass(ids)}
          />
        </>
      ) : (
        <p>Nothing more is doubtful here.</p>
      )}
      {undo && (
        <button type="button" class="plain wide" onClick={() => void undo()}>
          Undo the last answer
        </button>
      )}
    </Sheet>
  )
}
