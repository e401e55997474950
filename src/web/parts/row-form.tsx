import { useId, useState } from 'preact/hooks'
import type { RowAnswer } from '../../corrections/choices.ts'
import { parseEntry, valuesOf } from '../../corrections/entry.ts'
import type { Row } from '../../corrections/questions.ts'
import { sayField, sayValue } from '../../report/words.ts'
import { answerWords, hiveLabel, rowPlace } from './answer-words.ts'
import { FlagWord } from './flag.tsx'

/** One value of a look: what it is, and on a touch what it may have been instead. */
export function RowForm(props: {
  row: Row
  hive: string | null
  answer: RowAnswer | undefined
  isOpen: boolean
  open: () => void
  answered: (answer: RowAnswer) => void
}) {
  const { row, hive, answer, isOpen, open, answered } = props
  const where = rowPlace(row, hive)
  const isChanged = answer !== undefined && answer.is !== 'as said'
  return (
    <li class={isChanged ? 'row is-changed' : 'row'}>
      <div class="row-head">
        <p>
          <span class="row-field">{sayField(row.field)}</span>
          {where !== '' && <span class="row-place">{where}</span>}
          <span class="row-value">
            {isChanged ? (
              <>
                <s>{sayValue(row.value, row.unit)}</s> {answerWords(row, answer)}
              </>
            ) : (
              sayValue(row.value, row.unit)
            )}
          </span>
          <FlagWord flag={row.flag} />
          {row.weight > 0 && <span class="flag flag-weighty">changes what to do</span>}
        </p>
        <button type="button" class="plain" aria-expanded={isOpen} onClick={open}>
          Change<span class="unseen"> {sayField(row.field)}</span>
        </button>
      </div>
      {isOpen && <Choices row={row} answered={answered} />}
    </li>
  )
}

function Choices({ row, answered }: { row: Row; answered: (answer: RowAnswer) => void }) {
  const id = useId()
  const [typed, setTyped] = useState('')
  const [fault, setFault] = useState('')
  const words = valuesOf(row.field)
  const take = (): void => {
    const asHive = /^\s*hive\s+\S/i.test(typed) && row.place.hive !== null
    if (asHive) return answered({ is: 'hive', hive: hiveLabel(typed) })
    const entry = parseEntry(row.field, typed)
    if ('fault' in entry) setFault(entry.fault)
    else answered({ is: 'value', value: entry.value })
  }
  return (
    <div class="row-choices">
      <ul>
        {row.choices.map((choice) => (
          <li key={answerWords(row, choice)}>
            <button type="button" class="option" onClick={() => answered(choice)}>
              {answerWords(row, choice)}
            </button>
          </li>
        ))}
      </ul>
      <form
        onSubmit={(event) => {
          event.preventDefault()
          take()
        }}
      >
        <label for={id}>
          Another value{words.length > 0 ? ` (${words.join(', ')})` : ''}
          {row.place.hive === null ? '' : ', or “hive 3”'}
        </label>
        <div class="beside">
          <input
            id={id}
            value={typed}
            autocomplete="off"
            onInput={(event) => {
              setTyped(event.currentTarget.value)
              setFault('')
            }}
          />
          <button type="submit" class="plain" disabled={typed.trim() === ''}>
            Take it
          </button>
        </div>
        {fault !== '' && (
          <p role="alert" class="fault">
            {fault}
          </p>
        )}
      </form>
    </div>
  )
}
