import type { Hive, Reading } from '../record/schema.ts'
import { clean, paints, type Style } from './style.ts'
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
  const counts = hive.readings.filter((r) => r.field.endsWith('.count'))
  const counted = new Set(counts.map((r) => r.field.replace('.count', '.present')))
  const own = hive.readings
    .filter((r) => !r.field.startsWith('todo.') && !(r.value === 'yes' && isCounted(r.field, counted)))
    .sort((a, b) => rank(a) - rank(b))
  const phrases = own.map((reading) => say(reading))
  for (const box of hive.boxes) {
    const name = box.box === null ? '' : `${clean(box.box)}: `
    for (const reading of box.readings) phrases.push(say(reading, name + phrase(reading)))
    const capped = box.frames.flatMap((frame) =>
      frame.readings
        .filter((reading) => reading.field === 'honey.cappedPercent')
        .map((reading) => say(reading, `${frame.frame}${reading.side ?? ''}\u00a0${sayValue(reading.value, null)}`)),
    )
    if (capped.length > 0) phrases.push(`${name}% capped by frame ${capped.join(', ')}`)
    for (const frame of box.frames) {
      const taken = frame.readings.filter((reading) => reading.field === 'frame.taken' && reading.value === 'yes')
      for (const reading of taken)
        phrases.push(say(reading, `${name}${sayPlace(null, frame.frame, reading.side)} taken`))
    }
  }
  return phrases
}

/** "4 queen cells" says that there are some; the bare "queen cells" is left out. */
const isCounted = (field: string, counted: ReadonlySet<string>) =>
  /^queenC\w+\.present$/.test(field) && counted.has(field)

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
