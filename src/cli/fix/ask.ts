import { isCancel, Prompt } from '@clack/core'
import { text } from '@clack/prompts'
import { parseEntry } from '../../corrections/entry.ts'
import type { Value } from '../../record/schema.ts'

/** What a key may be in an answer: a character, `enter`, or `stop` (Escape, Ctrl-C, the end of the input). */
export type Key = string

/** Waits for one of `keys` (`enter` among them is the usual answer), with `screen` above. Other keys do nothing. */
export async function askKey(screen: string, keys: readonly Key[]): Promise<Key> {
  const prompt = new KeyPrompt(screen, keys)
  const given = await prompt.prompt()
  return isCancel(given) || given === undefined ? 'stop' : String(given)
}

class KeyPrompt extends Prompt<string> {
  constructor(screen: string, keys: readonly Key[]) {
    const mayEnter = keys.includes('enter')
    super({ render: () => screen, initialValue: 'enter', validate: () => (mayEnter ? undefined : 'choose') }, false)
    this.value = 'enter'
    this.on('key', (char, info) => {
      const key = info.name === 'space' && mayEnter ? 'enter' : char?.toLowerCase()
      if (key === undefined || !keys.includes(key)) return
      this.value = key
      this.state = 'submit'
      this.emit('submit')
    })
  }
}

/** A line to type; `check` gives the fault of what was typed, if it has one. Undefined where it was left by Escape. */
export async function askLine(
  message: string,
  check: (typed: string) => string | undefined,
): Promise<string | undefined> {
  const given = await text({ message, defaultValue: '', validate: (typed) => check(typed ?? '') })
  return isCancel(given) ? undefined : String(given)
}

/** A value of a field, typed; what is no such value is asked for again. Undefined where it was left by Escape. */
export async function askValue(message: string, field: string): Promise<Value | undefined> {
  const typed = await askLine(message, (line) => {
    const entry = parseEntry(field, line)
    return 'fault' in entry ? entry.fault : undefined
  })
  const entry = typed === undefined ? undefined : parseEntry(field, typed)
  return entry && 'value' in entry ? entry.value : undefined
}
