import type { ComponentChildren } from 'preact'
import { useEffect, useId, useRef } from 'preact/hooks'

/** A sheet over the page; Escape and the button close it. The browser keeps the focus in it. */
export function Sheet(props: { title: string; close: () => void; children: ComponentChildren; closeWords?: string }) {
  const { title, close, children, closeWords = 'Close' } = props
  const dialog = useRef<HTMLDialogElement>(null)
  const id = useId()
  useEffect(() => {
    const own = dialog.current
    if (own && !own.open) own.showModal()
    return () => own?.close()
  }, [])
  return (
    <dialog ref={dialog} class="sheet" aria-labelledby={id} onCancel={close}>
      <header class="sheet-head">
        <h2 id={id}>{title}</h2>
        <button type="button" class="plain" onClick={close}>
          {closeWords}
        </button>
      </header>
      {children}
    </dialog>
  )
}
