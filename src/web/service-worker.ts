import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from 'workbox-precaching'
import { NavigationRoute, registerRoute } from 'workbox-routing'

/**
 * Keeps the whole page on the device, so that it opens with no signal. It never touches `api/`: what is asked of the
 * server at home goes there or fails.
 */

/** Every file of the page with a hash of its content; put in by the build. */
declare const COMBSCRIBE_FILES: { url: string; revision: string | null }[]

precacheAndRoute(COMBSCRIBE_FILES)
cleanupOutdatedCaches()
registerRoute(new NavigationRoute(createHandlerBoundToURL('index.html'), { denylist: [/\/api\//] }))

// A new version waits until the page asks for it (or all its windows are closed): nothing changes in the middle of a visit.
addEventListener('message', (event: MessageEvent) => {
  if (event.data?.type === 'SKIP_WAITING') (globalThis as unknown as { skipWaiting(): Promise<void> }).skipWaiting()
})
