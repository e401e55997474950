import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { frameTypes } from '../../src/rules/frames.ts'
import * as entry from '../../src/rules/index.ts'
import { askable } from '../../src/rules/questions.ts'
import { rules } from '../../src/rules/rules.ts'
import { yardSchema } from '../../src/yard.ts'

const folder = new URL('../../src/rules/', import.meta.url)
const texts = readdirSync(folder).map((file) => [file, readFileSync(new URL(file, folder), 'utf8')] as const)
const book = entry.rulebook()

test('a rule lives in the file of its name', () => {
  for (const { id } of rules) expect(texts.map(([file]) => file)).toContain(`${id}.ts`)
  expect(new Set(rules.map((rule) => rule.id)).size).toBe(rules.length)
})

test('every rule file is in the rulebook', () => {
  const defined = texts
    .filter(([file, text]) => file !== 'rule.ts' && text.includes('defineRule({'))
    .map(([file]) => file.replace('.ts', ''))
  expect(defined.sort()).toEqual(rules.map((rule) => rule.id).sort())
})

test('it is data: JSON and back', () => {
  expect(JSON.parse(JSON.stringify(book))).toEqual(book)
})

test('every number says where it is from and in what unit', () => {
  for (const { id, numbers } of book.rules)
    for (const [name, { from, unit, about }] of Object.entries(numbers)) {
      expect(['common practice', 'derived', 'from memory', ...Object.keys(book.sources)], `${id}.${name}`).toContain(
        from,
      )
      expect(unit.length && about.length, `${id}.${name}`).toBeGreaterThan(0)
    }
})

test('no source and no caution is listed in vain', () => {
  const all = texts
    .filter(([file]) => !['sources.ts', 'cautions.ts'].includes(file))
    .map(([, text]) => text)
    .join('\n')
  const cautions = texts.find(([file]) => file === 'cautions.ts')![1]
  for (const id of Object.keys(book.sources))
    expect(all.includes(`'${id}'`) || cautions.includes(`'${id}'`), id).toBe(true)
  for (const id of Object.keys(book.cautions)) expect(all.includes(`'${id}'`), id).toBe(true)
})

test('every number that is printed as settable is used', () => {
  for (const [file, text] of texts) {
    for (const [, name] of text.matchAll(/^\s+(\w+): num\(/gm)) {
      const used = texts.some(([, other]) => new RegExp(`\\bn\\.${name}\\b`).test(other))
      expect(used, `${file} ${name}`).toBe(true)
    }
  }
})

test('the text names every rule, number and source', () => {
  const text = entry.rulebookText()
  for (const { id, title, numbers } of book.rules) {
    expect(text).toContain(`${id}: ${title}`)
    for (const name of Object.keys(numbers)) expect(text).toContain(`    ${name} = `)
  }
  for (const id of Object.keys(book.sources)) expect(text).toContain(`  ${id}: `)
})

test('every question that a rule asks has its words', () => {
  for (const [file, text] of texts)
    for (const [, field] of text.matchAll(/ask\(hive, '([\w.]+)'/g))
      expect(askable.has(field!), `${file} ${field}`).toBe(true)
})

test('the rules know nothing of the reader, the system or the network', () => {
  const allowed = ['../zod.ts', '../record/schema.ts', '../errors.ts', '../span.ts']
  for (const [file, text] of texts)
    for (const [, from] of text.matchAll(/from '([^']+)'/g))
      expect(from!.startsWith('./') || allowed.includes(from!), `${file} imports ${from}`).toBe(true)
})

test('no rule reads the clock or rolls dice', () => {
  for (const [file, text] of texts) expect(text, file).not.toMatch(/Date\.now|new Date\(\)|Math\.random|console\./)
})

test('the yard file and the rules know the same frames', () => {
  for (const type of frameTypes)
    expect(yardSchema.safeParse({ equipment: { broodFrame: type } }).success, type).toBe(true)
  expect(yardSchema.safeParse({ equipment: { broodFrame: 'unheardOf' } }).success).toBe(false)
})
