import { config } from 'zod/mini'
import en from 'zod/v4/locales/en.js'

/**
 * The schema library in its small form, for everything that is checked: what is not used (chained methods, JSON Schema)
 * stays out of the page. Its messages are set here, for the small form knows none of its own.
 */
config(en())

export * from 'zod/mini'
