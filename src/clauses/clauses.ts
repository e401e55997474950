/** What the page fetches after its first load: how clauses are read. It takes nothing of what the page has, so that the page stays one piece. */
export { default as packed } from './clauses.json' with { type: 'json' }
export { clauseReader } from './reader.ts'
