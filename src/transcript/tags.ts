/** A tag or a run of text in XML or HTML that a machine wrote. */
export type Markup =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'open' | 'close'; readonly name: string; readonly attributes: Readonly<Record<string, string>> }

/** One pass over the tags; a `<` that opens none is text. Names come without their prefix, in lower case. */
export function* readTags(text: string): Generator<Markup> {
  let last = 0
  for (const match of text.matchAll(/<!--(?:[^-]|-(?!->)){0,1000}-->|<([/?!]?)([a-z][\w:.-]*)([^<>]*)>/gi)) {
    if (match.index > last) yield { kind: 'text', text: text.slice(last, match.index) }
    last = match.index + match[0].length
    const [, mark, name, rest = ''] = match
    if (!name || mark === '?' || mark === '!') continue
    const plain = { name: local(name), attributes: attributesOf(rest.slice(0, 2000)) }
    yield { kind: mark === '/' ? 'close' : 'open', ...plain }
    if (mark === '' && rest.endsWith('/')) yield { kind: 'close', ...plain }
  }
  if (last < text.length) yield { kind: 'text', text: text.slice(last) }
}

const local = (name: string): string => name.replace(/^.*:/, '').toLowerCase()

function attributesOf(text: string): Record<string, string> {
  const attributes: Record<string, string> = {}
  for (const [, name, double, single] of text.matchAll(/([\w:.-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g)) {
    attributes[local(name!)] = double ?? single ?? ''
  }
  return attributes
}
