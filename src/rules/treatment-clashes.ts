import { amount, readings } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { labelDecides, supersOn, treatmentWords } from './treatment-facts.ts'

/** A treatment given or planned together with honey supers or outside its temperatures. The label has the last word. */
export const treatmentClashes = defineRule({
  id: 'treatment-clashes',
  title: 'Does a treatment clash with supers or weather?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['did.treat', 'did.treat.kind', 'todo.treat', 'todo.treat.kind', 'boxes.super', 'weather.temperature'],
  numbers: {
    formicHottest: num(29.5, 'C', 'formic-leaflet', 'formic strips: daytime high on the day of application'),
    formicColdest: num(10, 'C', 'formic-leaflet', 'formic strips: daytime high at least'),
    thymolHottest: num(30, 'C', 'thymol-strip-spc', 'thymol: not above'),
    thymolColdest: num(15, 'C', 'thymol-gel-spc', 'thymol: works badly below'),
    oxalicColdest: num(3, 'C', 'common practice', 'trickled oxalic acid: at least (a German leaflet)'),
  },
  sources: ['formic-leaflet', 'thymol-strip-spc', 'thymol-gel-spc', 'amitraz-leaflet', 'oxalic-us'],
  cautions: ['acid', 'label'],
  judge(hive, n) {
    const fields = ['did.treat', 'did.treat.kind', 'todo.treat', 'todo.treat.kind']
    const said = fields.flatMap((field) => readings(hive, field)).filter((placed) => placed.value !== 'no')
    if (said.length === 0)
      return [{ verdict: 'none', what: 'No treatment was spoken of.', why: 'nothing given, nothing planned' }]
    const kinds = said.filter((placed) => placed.reading.field.endsWith('.kind')).map((placed) => String(placed.value))
    const supers = supersOn(hive)
    const warm = amount(hive, 'weather.temperature')
    const given = said.some((placed) => placed.reading.field.startsWith('did.'))
    const restsOn = [...said, ...supers.by, ...(given && warm ? warm.by : [])]
    const names = kinds.map((kind) => treatmentWords[kind] ?? kind).join(' and ') || 'a treatment'
    const limits: Record<string, readonly [number, number]> = {
      formicAcid: [n.formicColdest, n.formicHottest],
      thymol: [n.thymolColdest, n.thymolHottest],
      oxalicAcid: [n.oxalicColdest, Number.POSITIVE_INFINITY],
    }
    const off =
      given && warm
        ? kinds.filter((kind) => limits[kind] && (warm.likely < limits[kind][0] || warm.likely > limits[kind][1]))
        : []
    const why: string[] = []
    if (supers.is) why.push(`${names} with supers on`)
    if (off.length > 0)
      why.push(
        `${warm!.likely} °C is outside what labels of ${off.map((kind) => treatmentWords[kind]).join(' and ')} allow`,
      )
    const forbidden = supers.is && kinds.some((kind) => !labelDecides(kind))
    const next =
      'Read the label: does it allow supers and this weather? Where it does not, take the supers or the product off.'
    if (forbidden || off.length > 0)
      return [
        { verdict: 'act', what: 'The treatment clashes with supers or weather.', why: why.join('; '), next, restsOn },
      ]
    if (supers.is)
      return [
        {
          verdict: 'watch',
          what: 'A treatment with supers on: its label decides.',
          why: why.join('; '),
          next,
          restsOn,
          missing: [ask(hive, 'did.treat.kind')],
        },
      ]
    if (supers.is === undefined)
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether supers are on was not said.',
          why: names,
          next,
          restsOn,
          missing: [ask(hive, 'boxes.super')],
        },
      ]
    return [{ verdict: 'none', what: 'No supers are on.', why: names, restsOn }]
  },
})
