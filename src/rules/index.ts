/** The rules alone, for any program that has a record: `combscribe/rules`. Knows nothing of the reader. */
export { cautions } from './cautions.ts'
export { type Decisive, decisive } from './decisive.ts'
export { type Finding, findingSchema, gravity } from './finding.ts'
export { type JudgeOptions, judge } from './judge.ts'
export { type Rulebook, rulebook, rulebookText } from './rulebook.ts'
export { ruleSettingsSchema, type YardForRules } from './settings.ts'
export { sources } from './sources.ts'
