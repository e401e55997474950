import { useEffect, useState } from 'preact/hooks'
import { isLocal, recognitionClass } from '../ears/speech-api.ts'
import { usePage } from '../page.ts'
import { Sheet } from '../parts/sheet.tsx'
import type { Ears } from '../store/settings.ts'

/** How the page shall hear: asked before the first use, because a browser's recognition may send the sound away. */
export function EarsSheet() {
  const page = usePage()
  const [local, setLocal] = useState(false)
  useEffect(() => {
    void isLocal(navigator.language).then(setLocal)
  }, [])
  const hasBrowser = recognitionClass() !== undefined
  const hasRecorder = 'MediaRecorder' in globalThis && navigator.mediaDevices !== undefined
  const take = (ears: Ears) => async (): Promise<void> => {
    await page.choose({ ears })
    page.askEars(false)
    if (ears !== 'none') await page.toggle()
  }
  return (
    <Sheet title="How shall this page hear you?" close={() => page.askEars(false)}>
      <p>What you say stays on this machine, unless you choose otherwise here.</p>
      <ul class="choices">
        {hasRecorder && (
          <li>
            <button type="button" class="choice" onClick={take('recorder')}>
              <strong>Record here</strong>
              <span>
                The sound is kept on this machine and written down by the recogniser of <code>combscribe serve</code>
                {page.home.value?.recogniser ? '.' : ', as soon as it is there.'} Nothing is sent elsewhere.
              </span>
            </button>
          </li>
        )}
        {hasBrowser && (
          <li>
            <button type="button" class="choice" onClick={take('browser')}>
              <strong>{local ? 'This browser’s recognition, on this machine' : 'This browser’s recognition'}</strong>
              <span>
                {local
                  ? 'The browser writes it down itself. Nothing is sent elsewhere.'
                  : 'Answers at once. The browser may send the sound to its maker’s service, and needs a network if it does.'}
              </span>
            </button>
          </li>
        )}
        <li>
          <button type="button" class="choice" onClick={take('none')}>
            <strong>No microphone</strong>
            <span>Type, paste or open a transcript.</span>
          </button>
        </li>
      </ul>
      <p class="fine">You can change this under Visits, Settings.</p>
    </Sheet>
  )
}
