// Learns which words name a hive that is called (src/language/name-net.ts) from the told notes, and writes src/language/name-net.json.
// usage: node tests/tools/fit-names.mjs
import { learnNames } from './names.mjs'
import { shipTalkNet } from './talk-nets.mjs'

const talk = [
  'right then green door eight seams queen seen and eggs close her up next is charlie two ten frames of bees and no cells',
  'hive two lid off eight seams frame one honey and two frames of brood on to three five seams no eggs that i can see',
  'queen seen',
]
await shipTalkNet('name-net', await learnNames(), talk)
