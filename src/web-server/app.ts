import { Hono } from 'hono'
import { methodNotAllowed } from 'hono/method-not-allowed'
import { CombscribeError } from '../errors.ts'
import { createApi } from './api.ts'
import { onlyOwnPage, refuse } from './guard.ts'
import { securityHeaders } from './headers.ts'
import { type PageFile, sendFile } from './page-files.ts'
import type { Services } from './services.ts'

/** The answers of the server: the page's files, and what the page asks under `/api/`. `port`: where it listens. */
export function createApp(files: ReadonlyMap<string, PageFile>, services: Services, port: () => number): Hono {
  const app = new Hono()
  app.use(securityHeaders)
  app.use(onlyOwnPage(port))
  app.use(
    methodNotAllowed({
      app,
      onMethodNotAllowed: (c, methods) => {
        c.header('Allow', methods.join(', '))
        return refuse(c, 405, `This is asked with ${methods.join(' or ')}.`)
      },
    }),
  )

  // What the page keeps belongs to one address: under the numbers of loopback it would look lost.
  for (const path of ['/', '/index.html'])
    app.get(path, async (c, next) => {
      const { hostname } = new URL(c.req.url)
      return hostname === 'localhost' ? next() : c.redirect(`http://localhost:${port()}/`)
    })
  app.route('/api', createApi(services))

  // Each file is a route of its own: what is not in the list is not there, whatever a path looks like.
  for (const [path, file] of files) app.get(path, (c) => sendFile(c, path, file))
  app.notFound((c) => refuse(c, 404, 'There is no such thing here.'))
  app.onError((error, c) => {
    if (error instanceof CombscribeError) return refuse(c, 422, error.message)
    // Whoever asked has gone, or we are about to go: nobody hears the answer, and nothing is wrong.
    if (c.req.raw.signal.aborted || services.ending.aborted) return refuse(c, 400, 'The request was given up.')
    services.report(`a fault of the program itself (${error.name}); please report it.`)
    return refuse(c, 500, 'A fault of the program itself; please report it.')
  })
  return app
}
