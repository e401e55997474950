import type { Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { createAdaptorServer } from '@hono/node-server'
import type { Hono } from 'hono'
import { CombscribeError } from '../errors.ts'

export interface Listening {
  readonly port: number
  /** Takes no new requests, ends those that are open, and resolves when all is closed. */
  close(): Promise<void>
}

/** Browsers send a request's head at once and a recording over loopback in seconds. */
const limits = {
  headersTimeout: 10_000,
  requestTimeout: 60_000,
  keepAliveTimeout: 5_000,
  connectionsCheckingInterval: 2_000,
  maxHeaderSize: 16_384,
}

/** Listens at `port` (0: a free one) on the two loopback addresses and no other. Throws `bad-usage` if it is taken. */
export async function listen(createApp: (port: () => number) => Hono, wanted: number): Promise<Listening> {
  let port = wanted
  const app = createApp(() => port)
  const make = () => createAdaptorServer({ fetch: app.fetch, serverOptions: limits }) as Server
  const four = make()
  port = await bind(four, '127.0.0.1', wanted)
  const servers = [four]
  const six = make()
  try {
    await bind(six, '::1', port)
    servers.push(six)
  } catch (error) {
    // Not every machine has the second kind of address; but another program there would be taken for us.
    if (error instanceof CombscribeError) {
      await closed(four)
      throw error
    }
  }
  return { port, close: async () => void (await Promise.all(servers.map(closed))) }
}

function bind(server: Server, host: string, port: number): Promise<number> {
  server.maxConnections = 200
  server.maxRequestsPerSocket = 1000
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const what =
        error.code === 'EADDRINUSE'
          ? 'another program uses this port'
          : error.code === 'EACCES'
            ? 'this user may not use this port'
            : undefined
      reject(what ? new CombscribeError('bad-usage', what, String(port), 'choose another with --port') : error)
    })
    server.listen({ host, port, exclusive: true }, () => {
      // A connection that cannot be accepted (no file handles left) is no reason to end.
      server.on('error', () => {})
      resolve((server.address() as AddressInfo).port)
    })
  })
}

function closed(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve())
    server.closeIdleConnections()
    // What still runs gets a moment to end.
    setTimeout(() => server.closeAllConnections(), 1000).unref()
  })
}
