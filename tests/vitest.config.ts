import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/tools/no-console.ts'],
    // By itself it would leave one of two cores to whoever else is there.
    maxWorkers: 2,
    // The command-line tests start real child processes, and another file runs beside.
    testTimeout: 40_000,
    // A browser on a busy machine takes its time.
    expect: { poll: { timeout: 10_000 } },
  },
})
