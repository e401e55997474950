/**
 * Words that a hive note has and a recogniser's invented lines ("thanks for watching") have not. A short list is enough
 * to tell those apart; callers that have the whole vocabulary pass their own test.
 */
const words = new Set(
  `acid apiary bait bee bees beetle beetles board boards box boxes brace brood broodbox broodless burr cage candy cap
  capped capping cell cells chalkbrood cluster colony colonies comb crown cup cups deep deeps disease drawn drone drones
  dwindle egg eggs entrance excluder feed feeder fed flow fondant forage foulbrood foundation frame frames grub heft hive
  hives honey ideal ideals inspection keeper larva larvae laying lid mark marked medium mediums mesh mite mites moth nectar
  nest nosema notes nuc nucs oxalic pattern patty pollen propolis pupa pupae queen queenless queenright queens requeen
  robbing roof sealed seam seams shallow skep smoker spacer split splits stores sugar super superseded supersedure supers
  swarm swarming syrup temper temperament thymol treatment uncapped united varroa virgin wasp wasps wax weather weight
  worker workers yard`.split(/\s+/),
)

export const isTradeWord = (word: string): boolean => words.has(word.toLowerCase())
