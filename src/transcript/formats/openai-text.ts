import * as z from '../../zod.ts'
import { checked, maybe, objectsOf } from '../json-shape.ts'
import { type HeardWord, layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * JSON with little more than a `text`, as the OpenAI API's `json` and many wrappers give it. Confidence, where there are
 * `logprobs`: the mean of `exp(logprob)` over a word's tokens.
 */
export const openaiText: Format = {
  id: 'openai-text',
  title: 'JSON with a "text" or "transcript" (OpenAI json, with or without logprobs)',
  detect: (source) => {
    const objects = objectsOf(source)
    return objects.length > 0 && objects.every((value) => typeof (value.text ?? value.transcript) === 'string')
  },
  open(source) {
    const documents = objectsOf(source).map((value) => checked(schema, value, source, openaiText.title))
    return layOut(
      documents.map(({ text, transcript, logprobs }) => ({
        text: text ?? transcript ?? '',
        ...(logprobs && { words: wordsOf(logprobs) }),
      })),
      documents.some(({ logprobs }) => logprobs) ? 'tokenprob' : undefined,
    )
  },
}

const token = z.object({ token: z.string(), logprob: z.number() })
const schema = z.object({
  text: maybe(z.string()),
  transcript: maybe(z.string()),
  logprobs: maybe(z.array(token)),
})

/** Tokens are pieces of words; one that starts with a space opens a word. */
function wordsOf(tokens: readonly z.output<typeof token>[]): HeardWord[] {
  const groups: z.output<typeof token>[][] = []
  for (const token of tokens) {
    if (groups.length === 0 || /^\s/.test(token.token)) groups.push([token])
    else groups.at(-1)!.push(token)
  }
  return groups.map((group) => {
    const rated = group.filter(({ token }) => /[\p{L}\p{N}]/u.test(token))
    const sum = rated.reduce((total, { logprob }) => total + Math.min(1, Math.exp(logprob)), 0)
    return {
      text: group.map(({ token }) => token).join(''),
      ...(rated.length > 0 && { confidence: sum / rated.length }),
    }
  })
}
