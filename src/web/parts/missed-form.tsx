import { useId, useState } from 'preact/hooks'
import { added } from '../../corrections/answer.ts'
import type { CorrectionBody } from '../../corrections/correction.ts'
import { parseEntry, valuesOf } from '../../corrections/entry.ts'
import { placeFor } from '../../corrections/missed.ts'
import { fieldInfo, fieldNames } from '../../record/fields.ts'
import { type InspectionRecord, readingsIn } from '../../record/schema.ts'
import { fieldCalled, fieldsNear } from '../../report/called.ts'
import { sayField, sayHive, spell } from '../../report/words.ts'
import { hiveLabel } from './answer-words.ts'

/** A value that was missed in a line of the transcript: what it is, and at which hive. */
export function MissedForm(props: {
  line: { readonly start: number; readonly end: number }
  record: InspectionRecord
  text: string
  save: (bodies: CorrectionBody[]) => void
}) {
  const { line, record, text, save } = props
  const id = useId()
  const near = placeNear(record, line.start)
  const [called, setCalled] = useState('')
  const [typed, setTyped] = useState('')
  const [hive, setHive] = useState(near.hive ?? '')
  const [fault, setFault] = useState('')
  const field = fieldCalled(called)
  const words = field === undefined ? [] : valuesOf(field)
  const ofVisit = field !== undefined && fieldInfo(field)?.place === 'visit'
  const take = (): void => {
    if (field === undefined) return setFault(`There is no such value; near: ${fieldsNear(called)}.`)
    const entry = parseEntry(field, typed)
    if ('fault' in entry) return setFault(`${sayField(field)}: ${entry.fault}.`)
    const place = placeFor(field, hiveLabel(hive) === near.hive ? near : { ...nowhere, hive: hiveLabel(hive) })
    save([added(text, line, field, entry.value, place)])
  }
  return (
    <form
      class="missed"
      onSubmit={(event) => {
        event.preventDefault()
        take()
      }}
    >
      <blockquote class="look-words">{text.slice(line.start, line.end)}</blockquote>
      <label for={`${id}-field`}>What was missed?</label>
      <input
        id={`${id}-field`}
        list={`${id}-fields`}
        placeholder="frames of brood"
        autocomplete="off"
        value={called}
        onInput={(event) => {
          setCalled(event.currentTarget.value)
          setFault('')
        }}
      />
      <datalist id={`${id}-fields`}>
        {fieldNames().map((name) => (
          <option key={name} value={sayField(name)} />
        ))}
      </datalist>
      <label for={`${id}-value`}>Its value</label>
      {words.length > 0 ? (
        <select id={`${id}-value`} value={typed} onChange={(event) => setTyped(event.currentTarget.value)}>
          <option value="">choose</option>
          {words.map((word) => (
            <option key={word} value={word}>
              {spell(word)}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={`${id}-value`}
          autocomplete="off"
          value={typed}
          onInput={(event) => {
            setTyped(event.currentTarget.value)
            setFault('')
          }}
        />
      )}
      {!ofVisit && (
        <>
          <label for={`${id}-hive`}>At which hive? {near.hive !== null && `(${sayHive(near.hive)} was in hand)`}</label>
          <input
            id={`${id}-hive`}
            autocomplete="off"
            value={hive}
            onInput={(event) => setHive(event.currentTarget.value)}
          />
        </>
      )}
      {fault !== '' && (
        <p role="alert" class="fault">
          {fault}
        </p>
      )}
      <button type="submit" class="strong" disabled={called.trim() === '' || typed.trim() === ''}>
        Add it
      </button>
    </form>
  )
}

const nowhere = { hive: null, box: null, frame: null, side: null } as const

/** The place of the reading that was given nearest before some words. */
function placeNear(record: InspectionRecord, start: number) {
  const before = readingsIn(record)
    .filter(({ hive, reading }) => hive !== null && reading.quote !== '')
    .sort((a, b) => a.reading.start - b.reading.start)
  const nearest = before.findLast(({ reading }) => reading.start <= start) ?? before[0]
  if (!nearest) return nowhere
  const { hive, box, frame, reading } = nearest
  return { hive, box, frame, side: reading.side }
}
