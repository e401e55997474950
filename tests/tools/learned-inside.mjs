import clauses from '../../src/clauses/clauses.json'
import { unpackClauses } from '../../src/clauses/model.ts'
import { unpackNet } from '../../src/clauses/net.ts'
import calls from '../../src/hives/call-net.json'
import { unpackCallNet } from '../../src/hives/call-net.ts'

/** What was learned, unpacked. */
export const learned = () => ({
  model: unpackClauses(clauses),
  net: unpackNet(clauses.net),
  calls: unpackCallNet(calls),
})
