import { request } from 'node:http'
import type { Serving } from './serving.ts'

export interface Answer {
  readonly status: number
  readonly headers: Record<string, string | string[] | undefined>
  readonly text: string
  json(): unknown
}

/** One request with exactly these headers: fetch would not let a test lie about Host and Origin. */
export function ask(
  server: Pick<Serving, 'port'>,
  path: string,
  options: {
    method?: string
    headers?: Record<string, string>
    body?: string | Uint8Array
    address?: string
  } = {},
): Promise<Answer> {
  const { method = 'GET', headers = {}, body, address = '127.0.0.1' } = options
  return new Promise((resolve, reject) => {
    const sent = request(
      {
        ...{ host: address, port: server.port, path, method },
        headers: { host: `localhost:${server.port}`, ...headers },
        // A connection of its own: what is left of a faulty request must not meet the next.
        agent: false,
      },
      (answer) => {
        const parts: Buffer[] = []
        answer.on('data', (part) => parts.push(part))
        answer.on('error', reject)
        answer.on('end', () => {
          const text = Buffer.concat(parts).toString()
          resolve({ status: answer.statusCode!, headers: answer.headers, text, json: () => JSON.parse(text) })
        })
      },
    )
    sent.on('error', reject)
    sent.end(body)
  })
}
