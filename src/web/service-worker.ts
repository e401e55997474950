import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from 'workbox-precaching'
import { NavigationRoute, registerRoute } from 'workbox-routing'

/**
 * Keeps the whole page on the device, so that it opens with no signal. It never touches `api/`: what is asked of the
 * server at home goes there or fails.
 */

/** Every file that the page needs to open, with a hash of its content; put in by the build. */
declare const COMBSCRIBE_FILES: { url: string; revision: string | null }[]
/** Files for what comes later (plots, transcripts of other programs): fetched when the page is there. Their names carry their hash. */
declare const COMBSCRIBE_LATER: string[]

const later = COMBSCRIBE_LATER.map((url) => new URL(url, location.href).href)
const LATER = 'combscribe-later'

precacheAndRoute(COMBSCRIBE_FILES)
cleanupOutdatedCaches()
registerRoute(
  ({ url }) => later.includes(url.href),
  async ({ request }) => (await caches.match(request.url)) ?? fetch(request),
)

const page = createHandlerBoundToURL('index.html')
registerRoute(
  new NavigationRoute(
    (options) => {
      // Whatever did not come the last time is tried again.
      options.event.waitUntil(fetchLater())
      return page(options)
    },
    { denylist: [/\/api\//] },
  ),
)
addEventListener('activate', (event) => (event as unknown as WaitingEvent).waitUntil(fetchLater()))

/** TypeScript's library of the page does not know a worker's events. */
interface WaitingEvent {
  waitUntil(work: Promise<unknown>): void
}

async function fetchLater(): Promise<void> {
  try {
    const cache = await caches.open(LATER)
    for (const { url } of await cache.keys()) if (!later.includes(url)) await cache.delete(url)
    for (const url of later) if (!(await cache.match(url))) await cache.add(url)
  } catch {
    // No network just now.
  }
}

// A new version waits until the page asks for it (or all its windows are closed): nothing changes in the middle of a visit.
addEventListener('message', (event: MessageEvent) => {
  if (event.data?.type === 'SKIP_WAITING') (globalThis as unknown as { skipWaiting(): Promise<void> }).skipWaiting()
})
