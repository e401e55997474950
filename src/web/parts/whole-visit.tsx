import { useId, useState } from 'preact/hooks'
import type { CorrectionBody } from '../../corrections/correction.ts'
import { parseEntry } from '../../corrections/entry.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import { sayHive } from '../../report/words.ts'
import { hiveLabel } from './answer-words.ts'

/** What is put right of the visit as a whole: its day, and two labels that are one hive. */
export function WholeVisit(props: { record: InspectionRecord; day: string; save: (bodies: CorrectionBody[]) => void }) {
  const { record, day, save } = props
  const id = useId()
  const labels = record.hives.map(({ hive }) => hive)
  const [date, setDate] = useState(record.date ?? day)
  const [from, setFrom] = useState(labels[0] ?? '')
  const [into, setInto] = useState('')
  const isDay = 'value' in parseEntry('visit.date', date)
  return (
    <div class="whole-visit">
      <form
        class="beside"
        onSubmit={(event) => {
          event.preventDefault()
          save([{ kind: 'date', date }])
        }}
      >
        <label for={`${id}-day`}>The day of the visit</label>
        <input id={`${id}-day`} type="date" value={date} onInput={(event) => setDate(event.currentTarget.value)} />
        <button type="submit" class="plain" disabled={!isDay || date === record.date}>
          Take it
        </button>
      </form>
      {labels.length > 0 && (
        <form
          class="beside"
          onSubmit={(event) => {
            event.preventDefault()
            save([{ kind: 'merge', from, into: hiveLabel(into) }])
          }}
        >
          <label for={`${id}-from`}>All that was said of</label>
          <select id={`${id}-from`} value={from} onChange={(event) => setFrom(event.currentTarget.value)}>
            {labels.map((label) => (
              <option key={label} value={label}>
                {sayHive(label)}
              </option>
            ))}
          </select>
          <label for={`${id}-into`}>belongs to the hive</label>
          <input
            id={`${id}-into`}
            autocomplete="off"
            value={into}
            onInput={(event) => setInto(event.currentTarget.value)}
          />
          <button type="submit" class="plain" disabled={hiveLabel(into) === '' || hiveLabel(into) === from}>
            Take it
          </button>
        </form>
      )}
    </div>
  )
}
