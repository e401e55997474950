import { afterEach, beforeEach, expect, vi } from 'vitest'

// Nothing below cli/ may talk to the console: a page or another program has its own way to say things.
const methods = ['log', 'info', 'warn', 'error', 'debug'] as const
const said: string[] = []

beforeEach(() => {
  said.length = 0
  for (const method of methods) {
    vi.spyOn(console, method).mockImplementation((...args: unknown[]) => void said.push(`${method}: ${args.join(' ')}`))
  }
})

afterEach(() => {
  const heard = [...said]
  vi.restoreAllMocks()
  expect(heard, 'nothing in src/ writes to the console').toEqual([])
})
