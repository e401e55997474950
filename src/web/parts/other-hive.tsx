import { useId, useState } from 'preact/hooks'
import { movedFrom, type Reach, wholeLookMoved } from '../../corrections/answer.ts'
import type { CorrectionBody } from '../../corrections/correction.ts'
import type { Question } from '../../corrections/questions.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import { sayHive } from '../../report/words.ts'
import { hiveLabel } from './answer-words.ts'

const REACHES: readonly (readonly [Reach | 'these', string])[] = [
  ['these', 'these values'],
  ['from here', 'from here on'],
  ['whole stretch', 'the whole stretch'],
]

/** All of a look was said of another hive: which, and how far that reaches. */
export function OtherHive(props: {
  question: Question
  record: InspectionRecord
  text: string
  save: (bodies: CorrectionBody[]) => void
}) {
  const { question, record, text, save } = props
  const id = useId()
  const [reach, setReach] = useState<Reach | 'these'>('these')
  const [typed, setTyped] = useState('')
  const move = (hive: string): void => {
    if (hive === '') return
    save(
      reach === 'these'
        ? wholeLookMoved(question, hive, record, text)
        : [movedFrom(record, text, question.start, { hive }, reach)],
    )
  }
  return (
    <div class="other-hive">
      <fieldset class="reach">
        <legend>How much of it?</legend>
        {REACHES.map(([value, words]) => (
          <label key={value}>
            <input type="radio" name={id} checked={reach === value} onChange={() => setReach(value)} />
            {words}
          </label>
        ))}
      </fieldset>
      <ul>
        {question.hives.slice(0, 6).map((hive) => (
          <li key={hive}>
            <button type="button" class="option" onClick={() => move(hive)}>
              {sayHive(hive)}
            </button>
          </li>
        ))}
      </ul>
      <form
        class="beside"
        onSubmit={(event) => {
          event.preventDefault()
          move(hiveLabel(typed))
        }}
      >
        <label for={`${id}-hive`}>Another hive</label>
        <input id={`${id}-hive`} value={typed} autocomplete="off" onInput={(e) => setTyped(e.currentTarget.value)} />
        <button type="submit" class="plain" disabled={hiveLabel(typed) === ''}>
          Take it
        </button>
      </form>
    </div>
  )
}
