import { useState } from 'preact/hooks'
import { correctionsFrom } from '../../corrections/answer.ts'
import type { RowAnswer } from '../../corrections/choices.ts'
import type { CorrectionBody } from '../../corrections/correction.ts'
import type { Question } from '../../corrections/questions.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import { LookWords } from './look-words.tsx'
import { OtherHive } from './other-hive.tsx'
import { RowForm } from './row-form.tsx'

/**
 * One look at some words: what became of them, and what is to be changed. `confirms`: what is left as it is counts as
 * confirmed; otherwise only what was changed is kept.
 */
export function Look(props: {
  question: Question
  record: InspectionRecord
  text: string
  confirms: boolean
  save: (bodies: CorrectionBody[]) => void
  skip?: () => void
}) {
  const { question, record, text, confirms, save, skip } = props
  const [answers, setAnswers] = useState<readonly (RowAnswer | undefined)[]>(
    question.rows.map(() => (confirms ? { is: 'as said' } : undefined)),
  )
  const [open, setOpen] = useState<number | null>(question.rows.length === 1 && !confirms ? 0 : null)
  const [moving, setMoving] = useState(false)
  const isChanged = answers.some((answer) => answer !== undefined && answer.is !== 'as said')
  const answered = (i: number) => (answer: RowAnswer) => {
    const next = answers.with(i, answer)
    // A single value needs no second touch.
    if (question.rows.length === 1) save(correctionsFrom(question, next, record, text))
    else {
      setAnswers(next)
      setOpen(null)
    }
  }
  return (
    <div class="look">
      <LookWords question={question} />
      <ul class="rows">
        {question.rows.map((row, i) => (
          <RowForm
            key={row.readings.join(' ')}
            row={row}
            hive={question.hive}
            answer={answers[i]}
            isOpen={open === i}
            open={() => setOpen(open === i ? null : i)}
            answered={answered(i)}
          />
        ))}
      </ul>
      {question.hive !== null && (
        <button type="button" class="plain wide" aria-expanded={moving} onClick={() => setMoving(!moving)}>
          It was another hive
        </button>
      )}
      {moving && <OtherHive {...{ question, record, text, save }} />}
      <div class="look-foot">
        {skip && (
          <button type="button" class="plain" onClick={skip}>
            Skip
          </button>
        )}
        <button
          type="button"
          class="strong"
          onClick={() => save(correctionsFrom(question, answers, record, text))}
          disabled={!confirms && !isChanged}
        >
          {isChanged ? 'Save the changes' : question.rows.length > 1 ? 'All right as it is' : 'Right as it is'}
        </button>
      </div>
    </div>
  )
}
