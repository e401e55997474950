import { useEffect, useState } from 'preact/hooks'
import { isLocal } from '../ears/speech-api.ts'
import { usePage } from '../page.ts'

/** Where the keeper's words go, as it is with what was chosen: true at any moment. */
export function Promised() {
  const { ears } = usePage().settings.value
  const [local, setLocal] = useState(false)
  useEffect(() => {
    void isLocal(navigator.language).then(setLocal)
  }, [])
  return ears === 'browser' && !local ? (
    <>
      What you say is kept on this machine only. Its sound may go to the maker of this browser, whose recognition you
      chose.
    </>
  ) : (
    <>What you say stays on this machine.</>
  )
}
