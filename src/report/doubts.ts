import { type InspectionRecord, placedReadings } from '../record/schema.ts'
import type { Ask, Finding } from '../rules/finding.ts'
import { clean } from './clean.ts'
import { quoted } from './style.ts'
import { sayField, sayHive, sayPlace, sayValue } from './words.ts'

export interface Doubt {
  readonly flag: 'check' | 'guess'
  readonly text: string
}

/** Readings that are not sure, those first that could change a finding. */
export function doubts(record: InspectionRecord, findings: readonly Finding[]): Doubt[] {
  const weight = new Map<string, number>()
  for (const { flips } of findings) for (const { reading } of flips) weight.set(reading, (weight.get(reading) ?? 0) + 1)
  return placedReadings(record)
    .flatMap(({ hive, box, frame, reading }) => {
      if (reading.flag === 'sure') return []
      const isVisit = record.visit.includes(reading)
      const place = [isVisit ? '' : sayHive(hive), sayPlace(box, frame, reading.side)].filter(Boolean).join(', ')
      const other = reading.alternatives[0]
      const or = other ? `, or ${clean(sayValue(other.value, reading.unit))}` : ''
      const value = clean(sayValue(reading.value, reading.unit))
      const turns = weight.get(reading.id) ?? 0
      const why = turns > 0 ? ' (changes what to do)' : ''
      const text = `${place ? `${clean(place)}: ` : ''}${sayField(reading.field)} ${value}${or}? ${quoted(reading.quote)}${why}`
      return [{ turns, flag: reading.flag, text }]
    })
    .sort((a, b) => b.turns - a.turns)
    .map(({ flag, text }) => ({ flag, text }))
}

const priorities: Record<Ask['priority'], number> = { first: 0, soon: 1, optional: 2 }

/** What the note left open and what the rules would need to hear; each once, the urgent first, hives together. */
export function asks(record: InspectionRecord, findings: readonly Finding[]): string[] {
  const wanted = new Map<string, { priority: number; text: string; hive: string; others: Set<string> }>()
  for (const { place, missing } of findings) {
    for (const { field, ask, priority } of missing) {
      const rank = priorities[priority]
      if (rank > 1) continue
      const hive = place.hive === null ? '' : sayHive(place.hive)
      const known = wanted.get(field)
      if (!known) wanted.set(field, { priority: rank, text: clean(ask), hive, others: new Set() })
      else {
        known.priority = Math.min(known.priority, rank)
        if (hive !== '' && hive !== known.hive) known.others.add(hive)
      }
    }
  }
  const open = record.questions.map((q) => `${sayHive(q.hive)}: ${clean(q.ask)} ${quoted(q.quote)}`)
  const rules = [...wanted.values()]
    .sort((a, b) => a.priority - b.priority)
    .map(({ text, others }) => (others.size > 0 ? `${text} The same for ${[...others].map(clean).join(', ')}.` : text))
  return [...new Set([...open, ...rules])]
}
