import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openSharedWork } from '../../src/cli/batch/shared-work.ts'
import { hasServer, type Server, startServer } from './server.ts'

/** Programs that open the list of one database in the same moment. */
const programs = 8

describe.skipIf(!hasServer)('the list that programs share', () => {
  let server: Server | undefined
  beforeAll(() => {
    server = startServer()
  }, 60_000)
  afterAll(() => server?.stop())

  // Each makes tables: without care PostgreSQL finds some of them waiting for each other and ends them.
  test.each([1, 2, 3, 4])(
    'is opened by many at once, each with a folder of its own: time %d',
    async (time) => {
      const where = server!.address(`at_once_${time}`)
      const taken = Array.from({ length: programs }, async (_, n) => {
        const list = await openSharedWork(where, `folder-${n % 4}`)
        try {
          const hash = (k: number) => `${n % 4}${k}a`.padEnd(64, '0')
          await list.offer(Array.from({ length: 10 }, (_, k) => ({ path: `${n % 4}-${k}`, hash: hash(k) })))
          const paths: string[] = []
          for await (const job of list.take(2)) {
            paths.push(job.path)
            await list.done(job)
          }
          return paths
        } finally {
          await list.close()
        }
      })
      const all = (await Promise.all(taken)).flat()
      expect(new Set(all).size).toBe(40)
    },
    60_000,
  )
})
