import { broodFacts } from './brood-facts.ts'
import { says } from './look.ts'
import { queenSigns } from './queen-facts.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

export const colonyDead = defineRule({
  id: 'colony-dead',
  title: 'Is the colony dead?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'act'],
  evenDead: true,
  needs: ['colony.dead', 'sign.absconded'],
  numbers: {},
  sources: ['uk-bee-health'],
  cautions: [],
  judge(hive) {
    const dead = says(hive, 'colony.dead')
    const gone = says(hive, 'sign.absconded')
    const restsOn = [...dead.by, ...gone.by]
    if (dead.is || gone.is)
      return [
        {
          verdict: 'act',
          what: dead.is ? 'The colony is dead.' : 'The colony has left.',
          why: 'said so',
          next: 'Close the entrance today against robbing. Look at the brood for disease before any comb goes to another hive.',
          restsOn,
        },
      ]
    const alive = [says(hive, 'queen.seen'), broodFacts(hive).any, queenSigns(hive).right].filter(
      (said) => said.is === true,
    )
    if (
      dead.is === false ||
      alive.length > 0 ||
      hive.byField.has('population') ||
      hive.byField.has('frames.bees') ||
      hive.byField.has('temperament')
    )
      return [
        {
          verdict: 'none',
          what: 'The colony is alive.',
          why: 'bees or brood were spoken of',
          restsOn: [...restsOn, ...alive.flatMap((said) => said.by)],
        },
      ]
    return [
      {
        verdict: 'cannot tell',
        what: 'Whether the colony lives was not said.',
        why: 'neither bees nor brood were spoken of',
        missing: [ask(hive, 'colony.dead', 'optional')],
      },
    ]
  },
})
