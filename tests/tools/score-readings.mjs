// How readings are counted against a labelled note (fixtures/corpus/GUIDE.md). A reading is right when hive, field and
// value agree; frame and side are counted apart, as placement.

const severalPlaces = /^(frame\.|honey\.|comb\.|brood\.coverPercent|did\.|todo\.)/
/** Fields that are newer than the labels: neither right nor wrong. */
const unlabelled =
  /^(brood\.present|colony\.dead|honey\.(moisture|shake|taken)|pest\.\w+\.present|queen\.(event|year|origin)|(did|todo)\.\w+\.(amount|when)|(did|todo)\.(emptyTrap|addMouseGuard|wrap|removeTreatment|removeFeeder|releaseQueen|sendSample|callInspector|extract|closeEntrance|addClearer|removeClearer|addTestFrame|giveCell|hiveSwarm|killQueen|report)|moved\.(from|to)|stings|weight\.gross|mites\.days|queenright|pollen\.comingIn|drones\.present|trend)$/

const lower = (value) => (typeof value === 'string' ? value.trim().toLowerCase() : value)
export const label = (hive) =>
  String(hive ?? '')
    .trim()
    .toLowerCase()
const isClose = (a, b) =>
  (Math.abs(a - b) < 0.51 && Math.abs(a - b) <= Math.max(1e-6, 0.011 * Math.abs(b))) || Math.abs(a - b) < 1e-6
const numberOf = (value) => {
  if (typeof value === 'number') return value
  return typeof value === 'string' && value.trim() !== '' && !Number.isNaN(Number(value)) ? Number(value) : undefined
}

/** Whether a value agrees with a label: equal, the same range, or inside a `{ between }`. */
export function agrees(said, gold) {
  if (gold && typeof gold === 'object' && !Array.isArray(gold) && gold.between) {
    const [low, high] = gold.between
    const isInside = (x) => x !== undefined && x >= low - 1e-6 && x <= high + 1e-6
    return Array.isArray(said) ? said.every((x) => isInside(numberOf(x))) : isInside(numberOf(said))
  }
  if (Array.isArray(gold)) {
    return Array.isArray(said) && said.length === gold.length && gold.every((g, i) => isClose(numberOf(said[i]), g))
  }
  if (typeof gold === 'number')
    return !Array.isArray(said) && numberOf(said) !== undefined && isClose(numberOf(said), gold)
  return String(lower(said)) === String(lower(gold))
}

export function groupOf(field) {
  if (field.startsWith('pest.') || field.startsWith('mites.')) return 'pests'
  if (field.startsWith('did.')) return 'did'
  if (field.startsWith('todo.')) return 'todo'
  if (/^(frames|seams|boxes)\./.test(field)) return 'counts'
  if (/^(honey\.|comb\.|brood\.cover)/.test(field)) return 'percentages'
  if (field.startsWith('frame.')) return 'frames'
  if (/^(queen|eggs|larvae|cappedBrood|droneBrood|brood\.|layingWorkers)/.test(field)) return 'queen and brood'
  return /^(visit|weather)/.test(field) || field === 'forage' ? 'visit' : 'colony'
}

const tally = () => ({ right: 0, wrong: 0, missed: 0 })

/** `readings` is a Map from a note's name to its flat readings. Gives counts, the misses, and what was judged. */
export function scoreReadings(golds, readings) {
  const total = tally()
  const groups = {}
  const notes = {}
  const misses = []
  const judged = []
  const placement = { right: 0, of: 0 }
  for (const gold of golds) {
    const said = (readings.get(gold.note) ?? []).map((reading) => ({ ...reading, used: false }))
    const optional = gold.optional ?? []
    notes[gold.note] = tally()
    const add = (field, kind) => {
      groups[groupOf(field)] ??= tally()
      for (const count of [total, notes[gold.note], groups[groupOf(field)]]) count[kind]++
    }
    const nearness = (reading, fact) =>
      (fact.frame != null && Number(reading.frame) === fact.frame ? 2 : 0) +
      (fact.side != null && reading.side === fact.side ? 1 : 0) +
      (fact.box != null && lower(reading.box) === lower(fact.box) ? 1 : 0)
    const matches = (reading, fact) =>
      reading.field === fact.field && label(reading.hive) === label(fact.hive) && agrees(reading.value, fact.value)
    const take = (fact) => {
      const fits = said.filter((reading) => !reading.used && matches(reading, fact))
      const fit = fits.sort((a, b) => nearness(b, fact) - nearness(a, fact))[0]
      if (fit) {
        fit.used = true
        judged.push({ isRight: true, confidence: fit.confidence, flag: fit.flag, reading: fit })
      }
      return fit
    }
    const miss = (kind, x, tail) =>
      misses.push(
        `${kind} ${gold.note} · hive "${label(x.hive)}" · ${x.field} = ${JSON.stringify(x.value)}${tail}   «${x.quote ?? ''}»`,
      )

    for (const fact of gold.facts) {
      const fit = take(fact)
      add(fact.field, fit ? 'right' : 'missed')
      if (!fit) miss('MISSED ', fact, '')
      else if (fact.frame != null) {
        placement.of++
        if (Number(fit.frame) === fact.frame && (fact.side == null || fit.side === fact.side)) placement.right++
      }
    }
    for (const fact of optional) take(fact)
    for (const reading of said) {
      if (reading.used || reading.how === 'derived' || unlabelled.test(reading.field)) continue
      if (reading.field === 'frame.holds' && reading.value === 'brood') continue
      // The same right value given twice is no second error.
      const twins = severalPlaces.test(reading.field) ? optional : [...gold.facts, ...optional]
      if (twins.some((fact) => matches(reading, fact))) continue
      add(reading.field, 'wrong')
      judged.push({ isRight: false, confidence: reading.confidence, flag: reading.flag, reading })
      miss('WRONG  ', reading, ` ${reading.flag} ${reading.confidence}`)
    }
  }
  return { noteCount: golds.length, total, groups, notes, placement, misses, judged, flags: flagCounts(judged) }
}

function flagCounts(judged) {
  const wrong = judged.filter((j) => !j.isRight)
  const sure = judged.filter((j) => j.flag === 'sure')
  return {
    judged: judged.length,
    wrong: wrong.length,
    wrongCaught: wrong.filter((j) => j.flag !== 'sure').length,
    toReview: judged.length - sure.length,
    sure: sure.length,
    sureButWrong: sure.filter((j) => !j.isRight).length,
  }
}

export function rates({ right, wrong, missed }) {
  const precision = right / (right + wrong || 1)
  const recall = right / (right + missed || 1)
  return { precision, recall, f1: (2 * precision * recall) / (precision + recall || 1) }
}

/** How far stated confidence lies from the share that was right, over ten equal bins. */
export function calibrationError(judged) {
  let error = 0
  for (let bin = 0; bin < 10; bin++) {
    const inside = judged.filter((j) => Math.min(9, Math.floor(j.confidence * 10)) === bin)
    if (inside.length === 0) continue
    const right = inside.filter((j) => j.isRight).length / inside.length
    const stated = inside.reduce((sum, j) => sum + j.confidence, 0) / inside.length
    error += (inside.length / judged.length) * Math.abs(right - stated)
  }
  return error
}
