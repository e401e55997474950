import type { Context, MiddlewareHandler } from 'hono'

/** The names of loopback; `localhost` is the one that is printed, so that what the page stores has one home. */
const names = ['localhost', '127.0.0.1', '[::1]']

/** A refusal or failure: one sentence, as JSON. */
export const refuse = (
  c: Context,
  status: 400 | 403 | 404 | 405 | 411 | 413 | 415 | 421 | 422 | 429 | 500,
  error: string,
) => c.json({ error }, status)

/**
 * Lets through what this machine's own page asks. A foreign `Host` is a name that was bent to point here (DNS rebinding);
 * a foreign `Origin` or `Sec-Fetch-Site` is another page that asks behind the keeper's back: such a page may at most open
 * ours in a window of its own. `port` is asked anew each time, because it is known only once the server listens.
 */
export const onlyOwnPage =
  (port: () => number): MiddlewareHandler =>
  async (c, next) => {
    const hosts = names.flatMap((name) => (port() === 80 ? [name, `${name}:80`] : [`${name}:${port()}`]))
    const host = c.req.header('host')?.toLowerCase() ?? ''
    const asked = new URL(c.req.url).host
    if (!hosts.includes(host) || !hosts.includes(asked)) {
      return refuse(c, 421, `This server answers at http://localhost:${port()}/ only.`)
    }
    const origin = c.req.header('origin')
    if (origin !== undefined && origin.toLowerCase() !== `http://${host}`) {
      return refuse(c, 403, 'Only the page of this server may ask.')
    }
    const site = c.req.header('sec-fetch-site')
    const isOwn = site === undefined || site === 'same-origin' || site === 'none'
    const opens =
      c.req.method === 'GET' &&
      c.req.header('sec-fetch-mode') === 'navigate' &&
      c.req.header('sec-fetch-dest') === 'document' &&
      !c.req.path.startsWith('/api/')
    if (!isOwn && !opens) return refuse(c, 403, 'Only the page of this server may ask.')
    return next()
  }
