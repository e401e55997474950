import type { Ask } from './finding.ts'
import type { HiveView } from './hive-view.ts'

/** What to say next time, by field; `{hive}` is put in. One wording a field, so that a printer can drop repeats. */
const wordings: Record<string, string> = {
  'eggs.present': 'Say whether you saw eggs in {hive}.',
  'larvae.present': 'Say whether you saw young larvae in {hive}.',
  'cappedBrood.present': 'Say whether you saw capped brood in {hive}.',
  'queen.seen': 'Say whether you saw the queen in {hive}.',
  'eggs.multiplePerCell': 'Say whether there was one egg to a cell in {hive}.',
  'brood.pattern': 'Say how the brood pattern looked in {hive}: solid, fair or spotty.',
  'queenCells.present': 'Say whether you looked for queen cells in {hive} and what you found.',
  'queenCells.kind':
    'Say where the queen cells in {hive} hung and whether they look like swarm, supersedure or emergency cells.',
  'queenCells.stage': 'Say whether the queen cells in {hive} were open or capped.',
  'frames.brood': 'Say how many frames of brood {hive} has.',
  'frames.cappedBrood': 'Say how many frames of capped brood {hive} has.',
  'frames.openBrood': 'Say how many frames of open brood {hive} has.',
  'frames.bees': 'Say how many frames of bees {hive} has.',
  'frames.total': 'Say how many frames the box of {hive} holds.',
  'frames.honey': 'Say how many frames of honey {hive} has, box by box.',
  'boxes.super': 'Say how many supers stand on {hive}.',
  population: 'Say how strong {hive} is.',
  temperament: 'Say how the bees of {hive} behaved.',
  stings: 'Say whether anybody was stung and how often.',
  'stores.level': 'Say how the stores of {hive} look, in words or in frames.',
  'stores.weight': 'Weigh or heft {hive} and say the stores in kilograms.',
  'excluder.present': 'Say whether a queen excluder is on {hive} and whether there is brood above it.',
  'honey.cappedPercent': 'Say how much of each side is capped in {hive}.',
  'honey.filledPercent': 'Say how full each side of honey is in {hive}.',
  'honey.shake': 'Give the frame a sharp shake in {hive} and say whether it drips.',
  'honey.moisture': 'Take a refractometer reading in {hive}.',
  'frames.cappedHoney': 'Say how many frames in the super of {hive} are capped.',
  'frame.holds': 'Say whether there is brood on the frame in {hive}.',
  'mites.count': 'Do a mite wash in {hive}: mites counted and bees in the sample.',
  'mites.sampleBees': 'Say how many bees were in the mite sample of {hive}.',
  'mites.days': 'Say how many days the board lay under {hive}.',
  'did.treat': 'Say which treatments {hive} has had this season, or judge it with its logbook.',
  'did.treat.kind': 'Say which treatment {hive} was given and read its label.',
  'pest.smallHiveBeetle.count': 'Say how many hive beetles you saw in {hive}.',
  'pest.smallHiveBeetle.larvae': 'Say whether there were beetle larvae or slime in {hive}.',
  'pest.waxMoth.level': 'Say whether there was wax moth in {hive}.',
  'pest.hornets.level': 'Say whether there were hornets at {hive}.',
  'pest.wasps.level': 'Say whether wasps bother {hive}.',
  'pest.mice.level': 'Say whether there were signs of mice in {hive}.',
  'pest.ants.level': 'Say whether there were ants in {hive}.',
  'sign.robbing': 'Say whether there was robbing at {hive}.',
  'sign.backfilled': 'Say whether there is nectar where brood should be in {hive}.',
  'sign.sunkenCappings': 'Say whether the cappings in {hive} looked sound, and whether there was a smell.',
  'sign.chilledBrood': 'Say whether there was chilled or dead brood in {hive}.',
  'sign.chalkbrood': 'Say whether there were mummies or dead larvae in {hive}.',
  'sign.deformedWings': 'Say whether there were crippled, crawling or dead bees at {hive}.',
  forage: 'Say whether there is a flow or a dearth.',
  'weather.temperature': 'Say how warm it is.',
  'visit.date': 'Say the date of the visit.',
  'colony.dead': 'Say whether {hive} is alive.',
  history: 'Judge {hive} together with its earlier visits.',
  'did.addTrap': 'Say when traps were put in or emptied in {hive}.',
  'todo.inspect': 'Say what is planned for {hive} and for when.',
  'queen.state': 'Say what has become of the queen of {hive}.',
  'moved.from': 'Say from which hive to which hive frames were moved.',
  'yard.hemisphere': 'Set the country or hemisphere in the yard file (region).',
  'yard.climate': 'Set the climate in the yard file (region.climate).',
  'yard.frame': 'Set the frame types in the yard file (equipment.broodFrame, equipment.superFrame).',
  'yard.country': 'Set the country in the yard file (region.country).',
}

/** Fields that have a wording: a rule that asks for another is a fault of the rule. */
export const askable: ReadonlySet<string> = new Set(Object.keys(wordings))

export const nameOf = (label: string): string =>
  label === '' ? 'this hive' : /^\d/.test(label) ? `hive ${label}` : label

export function ask(hive: HiveView, field: keyof typeof wordings | string, priority: Ask['priority'] = 'soon'): Ask {
  const wording = wordings[field]
  if (wording === undefined) throw new Error(`our bug: no question for ${field}`)
  return { field, ask: wording.replace('{hive}', nameOf(hive.label)), priority }
}
