import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'

/** What README and DEVELOPERS.md say is run, so that it stays true. */
const readme = readFileSync('README.md', 'utf8')
const cli = 'dist/cli.js'

beforeAll(() => {
  if (!existsSync(cli)) throw new Error(`${cli} is missing; run npm run build before the tests.`)
})

const combscribe = (args: string[]) => execFileSync(process.execPath, [cli, ...args], { encoding: 'utf8' })
const oneSpace = (text: string) => text.replace(/\s+/g, ' ').trim()

describe('the example', () => {
  const note = /\]\((fixtures\/notes\/\S+?)\)/.exec(readme)?.[1] ?? 'README names no note'

  test('is cut from the note it names', () => {
    const excerpt = /<!-- example: note -->\n```\n([\s\S]*?)```/.exec(readme)?.[1]
    expect(excerpt).toBeDefined()
    expect(oneSpace(readFileSync(note, 'utf8'))).toContain(oneSpace(excerpt!))
  })

  test('has the readings that the table shows', () => {
    const table = /<!-- example: readings -->\n([\s\S]*?)\n\n/.exec(readme)?.[1] ?? ''
    const shown = table
      .split('\n')
      .slice(2)
      .map((row) => row.split('|').map((cell) => cell.trim().replaceAll('`', '')))
    expect(shown.length).toBeGreaterThan(2)
    const readings = combscribe(['read', note, '--as', 'readings'])
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line))
    for (const [, hive, field, value, flag, words] of shown) {
      const quote = words!.slice(1, -1)
      const same = readings.filter((r) => r.hive === hive && r.field === field)
      expect(same.map((r) => [String(r.value), r.flag])).toEqual([[value, flag]])
      expect(same[0].quote).toContain(quote)
    }
  })
})

test('the line of the main job runs', () => {
  const line = /^npm ci && npm run build && node dist\/cli\.js (.*)$/m.exec(readme)?.[1] ?? 'no such line'
  expect(combscribe(line.split(' '))).toContain('Do first')
})

test('the library example runs as it stands', () => {
  const code = /```js\n([\s\S]*?)```/.exec(readme)?.[1] ?? ''
  const out = execFileSync(process.execPath, ['--input-type=module', '-e', code], { encoding: 'utf8' })
  expect(out).toMatch(/^[1-9]\d* readings, [1-9]\d* findings\n[1-9]\d* readings, the same\n$/)
})

// the command is started a dozen times
test('every command and option that README names exists', { timeout: 60_000 }, () => {
  const overview = combscribe(['--help'])
  const rows = [...readme.matchAll(/^\| `combscribe (\w+)([^`]*)`/gm)]
  expect(rows.length).toBeGreaterThan(3)
  for (const [, command, rest] of rows) {
    expect(overview).toContain(`combscribe ${command}`)
    const help = combscribe([command!, '--help'])
    for (const [option] of rest!.matchAll(/--[a-z]+/g)) expect(help).toContain(option)
  }
})

test.each(['README.md', 'DEVELOPERS.md'])('%s names files and scripts that exist', (page) => {
  const text = readFileSync(page, 'utf8')
  const { scripts } = JSON.parse(readFileSync('package.json', 'utf8'))
  for (const [, script] of text.matchAll(/npm run ([a-z:]+)/g)) expect(scripts).toHaveProperty(script!)
  const paths = [...text.matchAll(/(?:`|\]\()((?:src|tests|fixtures|grammar)\/[\w./-]*)(?:`|\))/g)].map(
    (match) => match[1]!,
  )
  expect(paths.length).toBeGreaterThan(2)
  for (const path of paths) expect(existsSync(path), path).toBe(true)
})
