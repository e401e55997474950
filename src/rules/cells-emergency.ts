import { broodFacts } from './brood-facts.ts'
import { cellFacts } from './cell-facts.ts'
import { queenSigns } from './queen-facts.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

/** Cells that replace a queen: cutting them can leave the colony hopeless. */
export const cellsEmergency = defineRule({
  id: 'cells-emergency',
  title: 'Emergency or supersedure cells: leave or act?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['queenCells.kind', 'queenCells.present', 'queen.seen', 'eggs.present'],
  numbers: {},
  sources: ['trunch-cells', 'connor-development'],
  cautions: [],
  judge(hive) {
    const cells = cellFacts(hive)
    const { eggs } = broodFacts(hive)
    const queen = queenSigns(hive)
    const restsOn = [...cells.by, ...eggs.by, ...queen.seen.by, ...queen.state.by]
    if (cells.present === false) return [{ verdict: 'none', what: 'No queen cells.', why: 'said so', restsOn }]
    if (!cells.present)
      return [
        {
          verdict: 'cannot tell',
          what: 'Queen cells were not spoken of.',
          why: 'nothing said',
          restsOn,
          missing: [ask(hive, 'queenCells.present', 'optional')],
        },
      ]
    if (cells.kinds.has('emergency'))
      return [
        {
          verdict: 'act',
          what: 'Emergency cells: the queen is gone.',
          why: 'they raise a new one from young larvae',
          next: 'Leave one or two good open cells and cut no others blindly; or give a mated queen.',
          restsOn,
        },
      ]
    const queenless = (eggs.is === false && queen.seen.is !== true) || queen.absent
    if (queenless && !cells.kinds.has('swarm'))
      return [
        {
          verdict: 'act',
          what: 'Cells and no sign of a laying queen.',
          why: 'the cells may be the colony’s only way to a queen',
          next: 'Do not cut them all: leave one or two.',
          restsOn,
        },
      ]
    if (cells.kinds.has('supersedure'))
      return [
        {
          verdict: 'watch',
          what: 'Supersedure cells.',
          why: 'they replace the queen by themselves',
          next: 'Leave them alone; look for eggs in four weeks.',
          restsOn,
        },
      ]
    if (cells.kinds.has('swarm')) return [{ verdict: 'none', what: 'They are swarm cells.', why: 'said so', restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'What kind of cells they are is open.',
        why: 'neither place nor kind was said',
        restsOn,
        missing: [ask(hive, 'queenCells.kind')],
      },
    ]
  },
})
