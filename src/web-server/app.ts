import { Hono } from 'hono'
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

  app.route('/api', createApi(services))

  app.get('*', async (c) => {
    const file = files.get(c.req.path)
    return file ? sendFile(c, c.req.path, file) : refuse(c, 404, 'There is no such thing here.')
  })
  app.notFound((c) => refuse(c, 405, 'This is not done here.'))
  app.onError((error, c) => {
    if (error instanceof CombscribeError) return refuse(c, 422, error.message)
    services.report(`a fault of the program itself (${error.name}); please report it.`)
    return refuse(c, 500, 'A fault of the program itself; please report it.')
  })
  return app
}
