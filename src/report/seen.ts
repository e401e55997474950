import type { Hive, Reading } from '../record/schema.ts'
import { clean } from './clean.ts'
import { paints, type Style } from './style.ts'
import { sayField, sayPlace, sayValue } from './words.ts'

/** What matters most stands first; the rest keeps its order. */
const order = [
  /^colony/,
  /^queen\./,
  /^queenright/,
  /^eggs|^larvae|^(capped)?[bB]rood|^drone|^layingWorkers/,
  /^queenC/,
  /^frames|^seams/,
  /^population|^temperament|^trend/,
  /^stores|^weight/,
  /^pest|^mites/,
  /^sign/,
  /^boxes|^excluder/,
]

/** One hive in a few short phrases: what was seen and what was done. A `?` stands behind what is not sure. */
export function seen(hive: Hive, style: Style): string[] {
  const paint = paints(style)
  const rank = (reading: Reading) => {
    const found = order.findIndex((pattern) => pattern.test(reading.field))
    return found < 0 ? order.length : found
  }
  const say = (reading: Reading, words = phrase(reading)) =>
    paint.flag(reading.flag, reading.flag === 'sure' ? words : `${words}?`)
  const phrasesOf = (readings: readonly Reading[]) => {
    const given = new Set(readings.map((r) => r.field))
    return readings
      .filter((r) => !r.field.startsWith('todo.') && !(r.value === 'yes' && isImplied(r.field, given)))
      .sort((a, b) => rank(a) - rank(b))
      .map((r) => say(r))
  }
  const phrases = phrasesOf(hive.readings)
  for (const box of hive.boxes) {
    const inBox = phrasesOf(box.readings)
    const capped = box.frames.flatMap((frame) =>
      frame.readings
        .filter((r) => r.field === 'honey.cappedPercent')
        .map((r) => say(r, `${frame.frame}${r.side ?? ''}\u00a0${sayValue(r.value, null)}`)),
    )
    if (capped.length > 0) inBox.push(`% capped by frame ${capped.join(', ')}`)
    for (const frame of box.frames) {
      const taken = frame.readings.filter((r) => r.field === 'frame.taken' && r.value === 'yes')
      for (const r of taken) inBox.push(say(r, `${sayPlace(null, frame.frame, r.side)} taken`))
    }
    if (inBox.length > 0) phrases.push(box.box === null ? inBox.join('; ') : `${clean(box.box)}: ${inBox.join(', ')}`)
  }
  return phrases
}

/** "4 queen cells" says that there are some, "40 beetles" that they were seen, "marked blue" that she is marked. */
function isImplied(field: string, given: ReadonlySet<string>): boolean {
  if (field === 'queen.marked') return given.has('queen.markColour')
  const stem = /^(queenCells|queenCups|pest\.\w+)\.present$/.exec(field)?.[1]
  return stem !== undefined && (given.has(`${stem}.count`) || given.has(`${stem}.level`))
}

/** `eggs`, `no queen cells`, `queen not seen`, `6 to 7 frames of brood`, `small hive beetle: few`. */
export function phrase(reading: Reading): string {
  const { field, value } = reading
  const name = sayField(field)
  const detail = reading.detail === undefined ? '' : ` (${clean(reading.detail)})`
  if (field === 'queen.seen') return value === 'yes' ? 'queen seen' : 'queen not seen'
  if (/^queen\.(marked|clipped)$/.test(field)) return value === 'yes' ? name : name.replace('queen ', 'queen not ')
  if (field === 'excluder.present') return value === 'yes' ? 'excluder on' : 'no excluder'
  if (field.startsWith('did.') && !field.endsWith('.kind')) {
    const job = name.replace('done: ', '')
    return value === 'yes' ? `${job}: done${detail}` : `${job}: ${clean(sayValue(value, reading.unit))}${detail}`
  }
  if (value === 'yes') return name + detail
  if (value === 'no') return `no ${name}${detail}`
  const said = clean(sayValue(value, reading.unit))
  if (field === 'queen.markColour') return `queen marked ${said}`
  if (/^queenC\w+\./.test(field))
    return field.endsWith('.count') ? `${said} ${name.split(',')[0]}` : `${name.split(',')[0]} ${said}`
  if (/^pest\.\w+\.count$/.test(field)) return `${name.split(',')[0]}: ${said}`
  if (/^(frames|seams|boxes)\./.test(field))
    return `${said} ${name.startsWith('frames ') && said === '1' ? name.replace('frames', 'frame') : name}${detail}`
  return `${name}: ${said}${detail}`
}
