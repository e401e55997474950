import { useState } from 'preact/hooks'
import { CombscribeError } from '../../errors.ts'
import { usePage } from '../page.ts'
import { Sheet } from '../parts/sheet.tsx'

/** Typing, pasting, dropping or picking what was said somewhere else. */
export function TypeSheet({ close }: { close: () => void }) {
  const page = usePage()
  const [text, setText] = useState('')
  const [fault, setFault] = useState('')
  const [isOver, setOver] = useState(false)
  const bring = async (given: string | Uint8Array, name: string): Promise<void> => {
    try {
      await page.bring(given, name)
      close()
    } catch (error) {
      if (!(error instanceof CombscribeError)) throw error
      setFault(error.message)
    }
  }
  const take = async (files: FileList | null | undefined): Promise<void> => {
    for (const file of files ?? []) {
      if (file.type.startsWith('audio/')) {
        await page.bringSound(file, file.name)
        close()
      } else await bring(new Uint8Array(await file.arrayBuffer()), file.name)
    }
  }
  const isLong = text.trim().split('\n').length > 2 || text.trimStart().startsWith('{') || text.length > 600
  return (
    <Sheet title="Type, paste or open" close={close}>
      <form
        class="type-form"
        onSubmit={(event) => {
          event.preventDefault()
          const words = text.trim()
          if (words === '') return
          if (isLong) void bring(words, 'pasted')
          else {
            page.say(words, 'typed')
            close()
          }
        }}
      >
        <label for="typed">A sentence, or a whole transcript</label>
        <textarea
          id="typed"
          rows={4}
          value={text}
          autocomplete="off"
          onInput={(event) => setText(event.currentTarget.value)}
        />
        <button type="submit" class="strong" disabled={text.trim() === ''}>
          {isLong ? 'Read as a visit of its own' : 'Say it'}
        </button>
      </form>
      <label
        class={isOver ? 'drop is-over' : 'drop'}
        onDragOver={(event) => {
          event.preventDefault()
          setOver(true)
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault()
          setOver(false)
          void take(event.dataTransfer?.files)
        }}
      >
        <span>Open a transcript (text, SRT, WebVTT, a recogniser’s JSON) or a recording</span>
        <input type="file" multiple onChange={(event) => void take(event.currentTarget.files)} />
      </label>
      {fault !== '' && (
        <p role="alert" class="fault">
          {fault}
        </p>
      )}
    </Sheet>
  )
}
