import { type ReadonlySignal, signal } from '@preact/signals'
import { screenLock } from './awake.ts'
import type { Ear, Heard } from './ears.ts'

/** The one control: listening or not, by whichever ear is in use. */
export interface Listening {
  readonly on: ReadonlySignal<boolean>
  start(): Promise<void>
  stop(): void
  /** Does not hear while the page itself speaks. */
  hold(): void
  resume(): void
}

/** `ear`: makes the ear that is in use at the moment; null: none, and the keeper is asked. */
export function openListening(heard: Heard, ear: (heard: Heard) => Promise<Ear | null>): Listening {
  const on = signal(false)
  const lock = screenLock()
  let now: Ear | null = null
  const off = (): void => {
    on.value = false
    now = null
    lock.want(false)
  }
  const told: Heard = {
    ...heard,
    failed(why) {
      off()
      heard.failed(why)
    },
  }
  return {
    on,
    async start() {
      if (on.value) return
      on.value = true
      const own = await ear(told)
      // Stopped again before it was ready.
      if (!on.value) return
      if (!own) return off()
      now = own
      lock.want(true)
      await own.start()
    },
    stop() {
      now?.stop()
      off()
    },
    hold: () => now?.hold(),
    resume: () => now?.resume(),
  }
}
