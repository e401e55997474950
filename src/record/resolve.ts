import { convert } from './convert.ts'
import { fieldInfo } from './fields.ts'
import type { Value } from './schema.ts'
import { type BoxPlace, type Draft, memoryOf, type State } from './state.ts'

/**
 * What the drafts of a note amount to: of several values for one thing the last word wins, the others stay as
 * alternatives; the same value said again is support. Runs over a copy, so that hearing may go on. `drafts`: all that were
 * said of some hives and of none; what a hive amounts to does not hang on other hives.
 */
export function settle(state: State, drafts: readonly Draft[] = state.drafts): Draft[] {
  const alive = drafts.filter((draft) => draft.dead === null).map(copy)
  for (const draft of alive) draft.box = boxNow(state, draft)
  const only = onlyHive(state)
  if (only !== null) for (const draft of alive) if (isOfHive(draft)) draft.hive = only
  if (state.cold) for (const draft of alive) draft.value = inTheCold(draft)
  groupCells(alive)
  groupDeeds(alive)
  const out: Draft[] = []
  const byKey = new Map<string, Draft[]>()
  for (const draft of alive) {
    const key = keyOf(draft)
    const list = byKey.get(key)
    if (list) list.push(draft)
    else byKey.set(key, [draft])
  }
  for (const list of byKey.values()) for (const draft of settleOne(list)) out.push(draft)
  const settled = dropContradicted(out)
  settled.push(...derive(settled))
  return settled.sort((a, b) => a.evidence[0]!.start - b.evidence[0]!.start)
}

/**
 * The one hive that was called in all of the note, if it was said when it was done with ("that was hive nine"): "next, hive four" tells
 * that there was another before it, whether or not its name was understood.
 */
export function onlyHive({ hives, calls }: State): string | null {
  const [only, other] = hives
  if (only === undefined || only === '' || other !== undefined) return null
  return calls.some(({ taken, which }) => taken && which) ? only : null
}

/** "… Two frames of honey. So that was the cedar hive": what was said before the hive was called. What is to be bought is for the yard. */
const isOfHive = ({ hive, field }: Draft): boolean =>
  hive === '' && fieldInfo(field)!.place !== 'visit' && !field.startsWith('todo.order')

/** "Thirty-nine degrees, feels colder": no Celsius. */
function inTheCold({ field, value }: Draft): Value {
  const heat = field === 'weather.temperature' && typeof value === 'number' && value >= 32 && value < 45
  return heat ? convert(value, 'F', { temperature: 'F' }) : value
}

const copy = (draft: Draft): Draft => ({
  ...draft,
  evidence: [...draft.evidence],
  alternatives: [...draft.alternatives],
  inNote: { ...draft.inNote },
})

/** "Top super" becomes `super 3` once the number of supers is known. */
function boxNow(state: State, draft: Draft): BoxPlace | null {
  const { box } = draft
  if (!box) return null
  const memory = memoryOf(state, draft.hive)
  const count = box.role === 'super' ? memory.supers : memory.broods
  if (box.said === 'top' && count !== null) return { role: box.role, ordinal: count }
  // a top box has one below it
  if (box.ordinal === null) return { role: box.role, ordinal: count ?? (box.said === 'top' ? 2 : 1) }
  return box
}

/** "Two sealed, three open": groups of cells counted in one breath are entries of their own. */
function groupCells(alive: readonly Draft[]): void {
  const counts = alive.filter((d) => d.field === 'queenCells.count' && d.entry === undefined)
  const stageOf = (count: Draft): Draft | undefined =>
    alive.find(
      (d) =>
        d.field === 'queenCells.stage' && d.hive === count.hive && d.evidence[0]!.start === count.evidence[0]!.start,
    )
  for (const hive of new Set(counts.map((d) => d.hive))) {
    const here = counts.filter((d) => d.hive === hive)
    const first = here[0]!
    if (here.length < 2 || here.some((d) => d.turn !== first.turn)) continue
    const stages = here.map(stageOf)
    if (stages.some((s) => s === undefined) || new Set(stages.map((s) => s!.value)).size < here.length) continue
    here.forEach((count, i) => {
      count.entry = i + 1
      stages[i]!.entry = i + 1
    })
  }
}

/** "A gallon of syrup and half a patty": feeds and treatments of other kinds are entries of their own. */
function groupDeeds(alive: readonly Draft[]): void {
  for (const base of ['did.feed', 'did.treat', 'todo.feed', 'todo.treat']) {
    const acts = alive.filter((d) => d.field === base)
    for (const hive of acts.length < 2 ? [] : new Set(acts.map((d) => d.hive))) {
      const here = acts.filter((d) => d.hive === hive)
      const kinds = alive.filter((d) => d.field === `${base}.kind` && d.hive === hive)
      const kindOf = (act: Draft): string | undefined =>
        kinds.find((d) => d.evidence[0]!.start === act.evidence[0]!.start)?.value as string | undefined
      const known: string[] = []
      const entryOf = (kind: string): number => {
        const at = known.findIndex((one) => one.startsWith(kind) || kind.startsWith(one))
        return at < 0 ? known.push(kind) : at + 1
      }
      for (const act of here) if (kindOf(act) !== undefined) entryOf(kindOf(act)!)
      if (known.length < 2) continue
      let last = 1
      for (const act of here) {
        const kind = kindOf(act)
        if (kind !== undefined) last = entryOf(kind)
        act.entry = last
      }
      for (const kind of kinds) kind.entry = entryOf(String(kind.value))
    }
  }
}

export const boxName = (box: BoxPlace | null): string => (box ? `${box.role} ${box.ordinal ?? 1}` : '')

function keyOf(draft: Draft): string {
  const info = fieldInfo(draft.field)!
  const place = `${draft.hive}|${info.place === 'hive' || info.place === 'visit' ? '' : boxName(draft.box)}`
  const deep = info.place === 'side' || info.place === 'frame'
  const frame =
    deep && draft.field !== 'queen.seen' && !/^queenC(ells|ups)\.present|^sign\.|^pest\./.test(draft.field)
      ? `|${draft.frame ?? ''}|${draft.side ?? ''}`
      : ''
  const value =
    draft.field === 'frame.holds' ||
    draft.field.endsWith('.kind') ||
    (info.words?.length === undefined && info.many && info.type === 'word')
      ? `|${String(draft.value)}`
      : ''
  const entry = draft.entry === undefined ? '' : `|#${draft.entry}`
  return `${draft.field}|${place}${frame}${value}${entry}`
}

const same = (a: Value, b: Value): boolean =>
  a === b || (typeof a === 'object' && JSON.stringify(a) === JSON.stringify(b))

/** How little a wording must tell (1 − `weight` of its grammar line) to be only a hint. */
const HINT = 0.3

function settleOne(all: Draft[]): Draft[] {
  if (all.length === 1) return all
  // what a clause as a whole tells gives way to what a line read
  const read = all.filter((d) => !d.features.likely)
  const list = read.length > 0 ? read : all
  const first = list[0]!
  const info = fieldInfo(first.field)!
  // "one sealed and two open"
  if (first.field === 'queenCells.stage' && list.every((d) => d.turn === first.turn))
    return list.filter((d, i) => list.findIndex((o) => same(o.value, d.value)) === i)
  let winner = list[list.length - 1]!
  if (info.type === 'yesNo' && first.field !== 'frame.taken') {
    // what was seen stays seen; "no" after "yes" only counts when said of the whole hive
    const yes = list.filter((d) => d.value === 'yes')
    const no = list.filter((d) => d.value === 'no')
    if (yes.length > 0 && no.length > 0) {
      const lastNo = no[no.length - 1]!
      const stated = yes.filter((d) => d.how !== 'derived')
      winner =
        /^(queen\.seen|eggs|larvae|cappedBrood|droneBrood|queenC)/.test(first.field) || lastNo.features.local
          ? (stated[0] ?? yes[0]!)
          : winner
    } else winner = (list.find((d) => d.how === 'stated') ?? list[0])!
  }
  if (info.type === 'deed') {
    // a number or a date says more than "yes"
    const telling = list.filter((d) => d.value !== 'yes')
    if (telling.length > 0) winner = telling[telling.length - 1]!
    else winner = list[0]!
  }
  // what only hints at a value ("one sting on the glove") does not overrule what was said outright
  if (info.type === 'word') winner = list.findLast((d) => (d.features.weak ?? 0) < HINT) ?? winner
  if (first.field === 'boxes.super' || first.field === 'boxes.brood') winner = list[list.length - 1]!
  for (const draft of all) {
    if (draft === winner) continue
    if (same(draft.value, winner.value)) {
      winner.inNote!.again = 1
      for (const e of draft.evidence)
        if (!winner.evidence.some((x) => x.start === e.start && x.end === e.end)) winner.evidence.push(e)
      if (winner.frame === null && draft.frame !== null && info.place !== 'hive') {
        winner.frame = draft.frame
        winner.box = draft.box
      }
    } else {
      if (info.type !== 'deed') winner.inNote!.conflict = 1
      const e = draft.evidence[0]!
      winner.alternatives.push({ value: draft.value, why: 'conflict', start: e.start, end: e.end })
    }
  }
  return [winner]
}

/** A stage of brood seen on a frame outvotes a "none" for the hive, and so on. */
function dropContradicted(drafts: Draft[]): Draft[] {
  const has = (hive: string, field: string, value: Value): boolean =>
    drafts.some((d) => d.hive === hive && d.field === field && same(d.value, value))
  return drafts.filter((d) => {
    if (/^pest\.\w+\.level$/.test(d.field) && d.value === 'none') {
      const name = d.field.split('.')[1]!
      if (drafts.some((o) => o.hive === d.hive && o.field === `pest.${name}.count` && o.value !== 0)) return false
    }
    if (d.field === 'queen.markColour' && has(d.hive, 'queen.marked', 'no')) return false
    if (d.field === 'queen.state' && d.value === 'absent' && has(d.hive, 'queen.seen', 'yes')) return false
    return true
  })
}

/** A count said once with several frames in hand is one count; one that equals the sum of those before it is their total. */
function onePerSaying(parts: Draft[]): Draft[] {
  const out = parts.filter((d, i) => parts.findIndex((o) => o.evidence[0]!.start === d.evidence[0]!.start) === i)
  const last = out[out.length - 1]
  return last && out.length > 2 && out.slice(0, -1).reduce((s, d) => s + (d.value as number), 0) === last.value
    ? []
    : out
}

/** What was said of the highest super: where there is one, it stands on the hive, unless boxes came or went in the visit. */
function superSeen(here: readonly Draft[]): Draft | undefined {
  if (here.some((d) => /^did\.(addBox|removeBox|takeHoney)$/.test(d.field))) return undefined
  return here
    .filter((d) => d.box?.role === 'super' && d.box.ordinal !== null)
    .reduce<Draft | undefined>((top, d) => (top && top.box!.ordinal! >= d.box!.ordinal! ? top : d), undefined)
}

/** Sums and rates that follow from what was said. */
function derive(drafts: Draft[]): Draft[] {
  const out: Draft[] = []
  const hives = [...new Set(drafts.map((d) => d.hive))]
  for (const hive of hives) {
    const here = drafts.filter((d) => d.hive === hive)
    const one = (field: string): Draft | undefined => here.find((d) => d.field === field && d.frame === null)
    const make = (field: string, value: Value, from: Draft[]): void => {
      const base = from[0]!
      out.push({
        ...copy(base),
        field,
        value,
        box: null,
        frame: null,
        side: null,
        how: 'derived',
        evidence: from.flatMap((d) => d.evidence),
        alternatives: [],
        dead: null,
      })
    }
    const seen = superSeen(here)
    if (seen && !here.some((d) => d.field === 'boxes.super')) make('boxes.super', seen.box!.ordinal!, [seen])
    const count = one('mites.count')
    const bees = one('mites.sampleBees') ?? drafts.find((d) => d.hive === '' && d.field === 'mites.sampleBees')
    const method = one('mites.method') ?? drafts.find((d) => d.hive === '' && d.field === 'mites.method')
    if (
      count &&
      bees &&
      typeof count.value === 'number' &&
      typeof bees.value === 'number' &&
      bees.value >= 50 &&
      !one('mites.perHundred') &&
      method?.value !== 'stickyBoard'
    ) {
      make('mites.perHundred', Math.round((count.value / bees.value) * 1000) / 10, [count, bees])
    }
    const days = one('mites.days')
    if (
      count &&
      days &&
      typeof count.value === 'number' &&
      typeof days.value === 'number' &&
      days.value > 0 &&
      !one('mites.dropPerDay')
    ) {
      make('mites.dropPerDay', Math.round((count.value / days.value) * 10) / 10, [count, days])
    }
    for (const field of [
      'frames.brood',
      'frames.bees',
      'frames.honey',
      'queenCells.count',
      'queenCups.count',
      'seams.bees',
    ]) {
      const parts = onePerSaying(here.filter((d) => d.field === field && typeof d.value === 'number'))
      const whole = parts.some((d) => d.box === null && d.frame === null)
      if (!whole && parts.length > 1)
        make(
          field,
          parts.reduce((s, d) => s + (d.value as number), 0),
          parts,
        )
    }
  }
  return out
}
