import type { InspectionRecord, Value } from '../record/schema.ts'
import type { Ask, Finding, Place } from './finding.ts'
import { gravity } from './finding.ts'
import { type HiveView, openHives, type Placed, type Trial } from './hive-view.ts'
import { says } from './look.ts'
import type { Answer, Rule } from './rule.ts'
import { rules } from './rules.ts'
import { openSettings, type Settings, type YardForRules } from './settings.ts'

export interface JudgeOptions {
  /** ISO date for which is asked what is due or overdue. Default: the day of the visit. */
  readonly today?: string
  /** Judge by these rules only. */
  readonly only?: readonly string[]
  /** Judge by rules of this kind only. */
  readonly kind?: Rule['kind']
  /** `false`: other values of doubtful readings are not tried. Findings then have no `flips`; it is several times as fast. */
  readonly flips?: false
}

/** The numbers that a yard may set, by `<rule>.<name>`. */
const numberNames = new Set(
  rules.flatMap((rule) =>
    Object.entries(rule.numbers)
      .filter(([, number]) => !number.fixed)
      .map(([name]) => `${rule.id}.${name}`),
  ),
)

/**
 * What the rules say of a record. `history`: earlier records; `yard`: the yard file's content. Every rule answers for
 * every hive, if only with `cannot tell` and a question. Throws `bad-yard` for settings that cannot be used, nothing else.
 */
export function judge(
  record: InspectionRecord,
  history: readonly InspectionRecord[] = [],
  yard?: YardForRules,
  options: JudgeOptions = {},
): Finding[] {
  const { settings, numbers } = opened(yard)
  const trial: Trial = { touched: new Set(), instead: undefined }
  const earlier = history
    .filter((one) => one.note !== record.note && (!record.date || (one.date !== null && one.date < record.date)))
    .sort((a, b) => ((a.date ?? '') < (b.date ?? '') ? 1 : -1))
  const today = options.today ?? record.date
  const { visited, unvisited, visit } = openHives({ record, settings, today, trial, history: earlier })
  const asked = rules.filter(({ id, kind }) => (options.only?.includes(id) ?? true) && kind === (options.kind ?? kind))
  const findings: Finding[] = []
  const tries = options.flips !== false
  for (const rule of asked) if (rule.wholeVisit) findings.push(...run(rule, visit, numbers, tries))
  for (const hive of visited) {
    const dead = says(hive, 'colony.dead').is === true
    const own = asked.filter((rule) => !rule.wholeVisit && (!dead || rule.evenDead))
    findings.push(...own.flatMap((rule) => run(rule, hive, numbers, tries)).sort(byGravity))
  }
  for (const hive of unvisited) {
    findings.push(
      ...asked
        .filter((rule) => rule.evenUnvisited)
        .flatMap((rule) => run(rule, hive, numbers, tries))
        .sort(byGravity),
    )
  }
  return findings
}

type Opened = { readonly settings: Settings; readonly numbers: Numbers }
/** The settings of no yard, which are always the same: while a visit is spoken, every sentence is judged. */
let ofNoYard: Opened | undefined

function opened(yard: YardForRules | undefined): Opened {
  if (yard === undefined && ofNoYard) return ofNoYard
  const settings = openSettings(yard, numberNames)
  const now = { settings, numbers: numbersFor(settings) }
  if (yard === undefined) ofNoYard = now
  return now
}

const order = { alarm: 0, ready: 1, when: 2, howMuch: 3 }
const byGravity = (a: Finding, b: Finding) => gravity(b.verdict) - gravity(a.verdict) || order[a.kind] - order[b.kind]

type Numbers = ReadonlyMap<Rule, Record<string, number>>

function run(rule: Rule, hive: HiveView, numbers: Numbers, tries: boolean): Finding[] {
  const n = numbers.get(rule)!
  const { trial } = hive
  trial.touched.clear()
  const answers = rule.judge(hive, n)
  const doubtful = tries
    ? [...trial.touched].filter(({ reading, note }) => note === hive.note && reading.flag !== 'sure')
    : []
  const flips = answers.map((): (Finding['flips'][number] & { by: Placed })[] => [])
  for (const placed of doubtful) {
    for (const instead of otherValues(placed)) {
      trial.instead = { reading: placed.reading, value: instead }
      const others = new Map(rule.judge(hive, n).map((answer) => [keyOf(answer), answer.verdict]))
      trial.instead = undefined
      for (const [i, answer] of answers.entries()) {
        const verdict = others.get(keyOf(answer)) ?? null
        if (verdict === answer.verdict) continue
        const { id, field, value, quote } = placed.reading
        flips[i]!.push({ reading: id, field, value, instead, verdict, quote, by: placed })
      }
    }
  }
  return answers.map((answer, i) => finish(rule, hive, answer, flips[i]!))
}

/** A yard may set any number of the rulebook under `rules.numbers`. */
function numbersFor({ numbers: own }: Settings): Numbers {
  const out = new Map<Rule, Record<string, number>>()
  for (const rule of rules) {
    const mine: Record<string, number> = {}
    for (const name in rule.numbers) mine[name] = own?.[`${rule.id}.${name}`] ?? rule.numbers[name]!.value
    out.set(rule, mine)
  }
  return out
}

const keyOf = ({ place }: Answer) => (place ? `${place.box}|${place.frame}|${place.side}` : '')

/** What a doubtful reading may have been instead: the values that lost (not those put right), and no for yes. */
export function otherValues({ reading }: Pick<Placed, 'reading'>): Value[] {
  const out: Value[] = []
  const seen = new Set([JSON.stringify(reading.value)])
  const take = (value: Value) => {
    const key = JSON.stringify(value)
    if (!seen.has(key)) out.push(value)
    seen.add(key)
  }
  for (const { value, why } of reading.alternatives) if (why !== 'corrected') take(value)
  if (reading.value === 'yes') take('no')
  if (reading.value === 'no') take('yes')
  return out
}

function finish(
  rule: Rule,
  hive: HiveView,
  answer: Answer,
  flips: (Finding['flips'][number] & { by: Placed })[],
): Finding {
  const grounds = new Map<object, Placed>()
  for (const placed of [...(answer.restsOn ?? []), ...flips.map((flip) => flip.by)]) {
    if (!grounds.has(placed.reading)) grounds.set(placed.reading, placed)
  }
  const restsOn = [...grounds.values()]
  const doubtful = restsOn.some(({ reading, note }) => note === hive.note && reading.flag !== 'sure')
  const place: Place = {
    hive: rule.wholeVisit ? null : hive.label,
    ...(answer.place ?? { box: null, frame: null, side: null }),
  }
  return {
    rule: rule.id,
    title: rule.title,
    kind: rule.kind,
    place,
    verdict: answer.verdict,
    provisional: doubtful || flips.length > 0,
    says: { what: answer.what, why: answer.why, next: answer.next ?? '' },
    restsOn: restsOn.map(({ reading, note, value }) => ({
      reading: reading.id,
      note,
      field: reading.field,
      value,
      quote: reading.quote,
    })),
    missing: [...(answer.missing ?? [])] as Ask[],
    flips: flips.map(({ by: _, ...flip }) => flip),
    dates: [...(answer.dates ?? [])],
    amounts: [...(answer.amounts ?? [])],
    // A caution belongs to something to do or to fear, not to every quiet answer.
    cautions: quiet.has(answer.verdict)
      ? [...(answer.cautions ?? [])]
      : [...new Set([...rule.cautions, ...(answer.cautions ?? [])])],
    sources: [...new Set([...rule.sources, ...(answer.sources ?? [])])],
  } as Finding
}

const quiet: ReadonlySet<string> = new Set(['none', 'no', 'cannot tell', 'nothing due', 'nothing to count'])
