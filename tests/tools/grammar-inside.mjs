export { english } from '../../src/grammar/english.ts'
export { needsOf } from '../../src/grammar/pattern.ts'
export { keptPatterns } from './kept-grammar.mjs'
