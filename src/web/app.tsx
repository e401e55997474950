import { useMemo, useState } from 'preact/hooks'
import { readNote } from '../read.ts'
import { flatten } from '../record/schema.ts'
import { judge } from '../rules/judge.ts'

/** A note typed or pasted, and at once what was understood of it. */
export function App() {
  const [text, setText] = useState('')
  const { readings, findings } = useMemo(() => {
    if (text.trim() === '') return { readings: [], findings: [] }
    const record = readNote(text, { name: 'note' })
    return { readings: flatten(record), findings: judge(record) }
  }, [text])
  return (
    <main>
      <h1>Combscribe</h1>
      <label>
        Note
        <textarea rows={6} value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <ul>
        {readings.map(({ hive, field, value, quote }) => (
          <li key={`${hive} ${field} ${quote}`}>
            {field} {String(value)} “{quote}”
          </li>
        ))}
      </ul>
      <ul>
        {findings.map(({ rule, says }) => (
          <li key={rule}>{says.what}</li>
        ))}
      </ul>
    </main>
  )
}
