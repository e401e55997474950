import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { Sheet } from './sheet.tsx'

/** A button for what cannot be taken back: it asks before it does it. */
export function AskedButton(props: {
  label: ComponentChildren
  title: string
  question: string
  yes: string
  act: () => void
  class?: string
}) {
  const [asked, setAsked] = useState(false)
  const close = (): void => setAsked(false)
  return (
    <>
      <button type="button" class={props.class ?? 'plain'} onClick={() => setAsked(true)}>
        {props.label}
      </button>
      {asked && (
        <Sheet title={props.title} close={close} closeWords="Keep it">
          <p>{props.question}</p>
          <button
            type="button"
            class="grave"
            onClick={() => {
              close()
              props.act()
            }}
          >
            {props.yes}
          </button>
        </Sheet>
      )}
    </>
  )
}
