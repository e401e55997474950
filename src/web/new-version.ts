import { signal } from '@preact/signals'

/** A newer page is on the device and waits until nobody needs the old one. */
export const newVersion = signal<(() => void) | null>(null)

/** Registers the offline worker, and tells when a newer one waits. Over plain http from elsewhere there is none. */
export async function watchVersions(): Promise<void> {
  if (!('serviceWorker' in navigator)) return
  try {
    const registration = await navigator.serviceWorker.register('service-worker.js')
    const wait = (worker: ServiceWorker | null): void => {
      // The first worker of all is no newer one.
      if (!worker || !navigator.serviceWorker.controller) return
      newVersion.value = () => {
        navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true })
        worker.postMessage({ type: 'SKIP_WAITING' })
      }
    }
    wait(registration.waiting)
    registration.addEventListener('updatefound', () => {
      const fresh = registration.installing
      fresh?.addEventListener('statechange', () => {
        if (fresh.state === 'installed') wait(fresh)
      })
    })
  } catch {
    // The page works without it, as long as its server is there.
  }
}
