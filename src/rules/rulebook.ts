import { cautions } from './cautions.ts'
import { type Kind, verdictsOf } from './finding.ts'
import { rules } from './rules.ts'
import { type Source, sources } from './sources.ts'

/** The rules as data: what any other program needs to run, print or check them. */
export interface Rulebook {
  readonly rules: readonly {
    readonly id: string
    readonly title: string
    readonly kind: Kind
    readonly verdicts: readonly string[]
    readonly needs: readonly string[]
    readonly numbers: Readonly<
      Record<string, { value: number; unit: string; about: string; from: string; fixed?: true }>
    >
    readonly sources: readonly string[]
    readonly cautions: readonly string[]
  }[]
  readonly sources: Readonly<Record<string, Source>>
  readonly cautions: Readonly<Record<string, { title: string; text: string; sources: readonly string[] }>>
}

export function rulebook(): Rulebook {
  return {
    rules: rules.map((rule) => ({
      id: rule.id,
      title: rule.title,
      kind: rule.kind,
      verdicts: rule.verdicts ?? verdictsOf[rule.kind],
      needs: rule.needs,
      numbers: rule.numbers,
      sources: rule.sources,
      cautions: rule.cautions,
    })),
    sources,
    cautions,
  }
}

const headings: Record<Kind, string> = {
  alarm: 'Alarm?',
  ready: 'Ready?',
  when: 'When?',
  howMuch: 'How much?',
}

/** The rulebook for a person: each rule with its numbers and where they come from. */
export function rulebookText(): string {
  const lines: string[] = []
  for (const kind of Object.keys(headings) as Kind[]) {
    lines.push(headings[kind], '')
    for (const rule of rules) {
      if (rule.kind !== kind) continue
      lines.push(`  ${rule.id}: ${rule.title}`, `    looks at: ${rule.needs.join(', ')}`)
      for (const [name, { value, unit, about, from }] of Object.entries(rule.numbers))
        lines.push(`    ${name} = ${value} ${unit}: ${about} (${from})`)
      lines.push(`    sources: ${rule.sources.length > 0 ? rule.sources.join(', ') : 'common practice'}`, '')
    }
  }
  lines.push('Sources', '')
  for (const [id, source] of Object.entries<Source>(sources)) {
    const relays = source.relays ? `; relays ${source.relays}` : ''
    lines.push(
      `  ${id}: ${source.title}. ${source.publisher}${source.year ? `, ${source.year}` : ''}${relays}. ${source.url ?? ''}`.trimEnd(),
    )
  }
  lines.push('', 'Cautions', '')
  for (const { title, text } of Object.values(cautions)) lines.push(`  ${title}: ${text}`)
  return `${lines.join('\n')}\n`
}
