import { CombscribeError } from '../errors.ts'
import { type GrammarFiles, kindOf, listsIn } from './grammar.ts'
import { fileSchema } from './line.ts'
import { preparePattern } from './pattern.ts'

/**
 * Throws `bad-grammar` where a grammar has faults: every fault of every file in one go, with file and line; `strict` also finds
 * lines said twice. The grammar that ships is checked by the tests: checking it again would cost every start.
 */
export function checkGrammar(files: GrammarFiles, { strict = false } = {}): void {
  const faults: string[] = []
  const lists = listsIn(files)
  const sayings = new Map<string, string>()
  for (const [file, content] of Object.entries(files)) {
    if (file === 'words.json') continue
    const parsed = fileSchema.safeParse(content)
    if (!parsed.success) {
      for (const issue of parsed.error.issues.slice(0, 5))
        faults.push(`${file}:${Number(issue.path[0] ?? 0) + 2} ${issue.path.slice(1).join('.')} ${issue.message}`)
      continue
    }
    for (const [index, line] of parsed.data.entries()) {
      const id = `${file.replace('.json', '')}:${index + 2}`
      const { unless = [], near = [], before = '', after = '' } = line
      const kind = kindOf(file, line)
      for (const say of typeof line.say === 'string' ? [line.say] : line.say) {
        try {
          if (preparePattern(say, lists).firstClasses === null)
            throw new Error('a pattern may not begin with "~" or "="')
          for (const other of [...unless, ...near, before, after]) if (other !== '') preparePattern(other, lists)
        } catch (error) {
          faults.push(`${id} ${(error as Error).message}`)
        }
        if (!strict || kind === 'repairs') continue
        const key = `${kind}|${say}|${line.is ?? ''}|${line.deed ?? line.task ?? ''}|${line.field ?? ''}|${line.when?.join() ?? ''}|${line.before ?? ''}|${line.after ?? ''}`
        const twin = sayings.get(key)
        if (twin) faults.push(`${id} says "${say}" again (already in ${twin})`)
        sayings.set(key, id)
      }
    }
  }
  if (faults.length > 0) throw new CombscribeError('bad-grammar', faults.join('\n'), 'grammar', 'mend these lines')
}
