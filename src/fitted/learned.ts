/** What the page fetches after its first load. It takes nothing of what the page has, so that the page stays one piece. */
export { default as amounts } from '../clauses/amounts.json' with { type: 'json' }
export { clauseReader } from '../clauses/reader.ts'
export { default as tagger } from '../clauses/tagger.json' with { type: 'json' }
export { default as calls } from '../hives/call-net.json' with { type: 'json' }
export { callNet } from '../hives/call-net.ts'
export { default as words } from '../hives/common-words.json' with { type: 'json' }
export { commonWords } from '../hives/common-words.ts'
export { default as cues } from '../hives/cue-net.json' with { type: 'json' }
export { together, unpackCueNet } from '../hives/cue-net.ts'
export { default as fine } from '../hives/fine-weights.json' with { type: 'json' }
export { default as borders } from '../language/border-net.json' with { type: 'json' }
export { borderReader } from '../language/border-net.ts'
export { default as names } from '../language/name-net.json' with { type: 'json' }
export { nameReader } from '../language/name-net.ts'
