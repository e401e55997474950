/**
 * How a written word sounds, as one letter a sound (ARPABET in short: vowels a A u o W I e R E i Y O Q U V, consonants as
 * written, with c = CH, D = DH, N = NG, S = SH, T = TH, Z = ZH). A rule list of English spelling; what it gets wrong is
 * in the table of exceptions that `grammar/en/sounds.json` holds.
 */

/** Spelling, where it stands, sounds. The first that fits at a place is taken. `^` and `$` are the word's borders. */
const RULES: readonly (readonly [spelling: string, sounds: string])[] = [
  ['^kn', 'n'],
  ['^gn', 'n'],
  ['^wr', 'r'],
  ['^wh(?=o)', 'h'],
  ['^x', 'z'],
  ['^one', 'wun'],
  ['^re(?=[bcdfglmpqstv][aeiouq])', 'rY'],
  ['^un', 'un'],
  ['^super', 'sVpR'],
  ['tch', 'c'],
  ['dge?', 'j'],
  ['sch', 'sk'],
  ['ssion|cion', 'Sun'],
  ['tion', 'Sun'],
  ['sion', 'Zun'],
  ['tious|cious', 'Sus'],
  ['ture(?=s?$)', 'cR'],
  ['cial|tial', 'Sul'],
  ['sc(?=[eiy])', 's'],
  ['ck', 'k'],
  ['cc(?=[eiy])', 'ks'],
  ['cc', 'k'],
  ['ch(?=[rl])', 'k'],
  ['ch', 'c'],
  ['c(?=[eiy])', 's'],
  ['c', 'k'],
  ['ph', 'f'],
  ['sh', 'S'],
  ['th(?=e(r|m|se|y)?$)', 'D'],
  ['th(?=er)', 'D'],
  ['th', 'T'],
  ['wh', 'w'],
  ['qu', 'kw'],
  ['que$', 'k'],
  ['q', 'k'],
  ['ought', 'ot'],
  ['aught', 'ot'],
  ['augh|ough(?=t)', 'o'],
  ['ough$', 'uf'],
  ['ough', 'O'],
  ['eigh', 'E'],
  ['igh', 'I'],
  ['gh(?=[aeiou])', 'g'],
  ['gh', ''],
  ['gg', 'g'],
  ['(?<=^|[aeiou])g(?=[eiy](?!r?$|v|t|ft|rl))', 'j'],
  ['ng(?=$|s$|ed$|ing)', 'N'],
  ['nk', 'Nk'],
  ['nge(?=$|s$|d$)', 'nj'],
  ['ge(?=$|s$|d$)', 'j'],
  ['g', 'g'],
  ['(?<=[aeiou][bcdfgklmnprstvz]+)es$', 'uz'],
  ['(?<=s|z|x|c|j|S)es$', 'uz'],
  ['(?<=[td])ed$', 'ud'],
  ['(?<=[pkfsxc]|sh|ch)ed$', 't'],
  ['(?<=[bcdfghjklmnpqrstvwxz])ed$', 'd'],
  ['mb$', 'm'],
  ['mbs$', 'mz'],
  ['mn$', 'm'],
  ['bt$', 't'],
  ['stle', 'sul'],
  ['ften', 'fun'],
  ['(?<=[bcdfghkpstz])le$', 'ul'],
  ['(?<=[bcdfghkpstz])les$', 'ulz'],
  ['(?<=[bcdfghkpstz])led$', 'uld'],
  ['alk', 'ok'],
  ['alm', 'am'],
  ['all', 'ol'],
  ['air|are$|ear(?=$|s$)', 'er'],
  ['ares$', 'erz'],
  ['ear(?=[ln])', 'R'],
  ['ear', 'ir'],
  ['eer', 'ir'],
  ['ere', 'ir'],
  ['ire', 'IR'],
  ['oar|oor', 'or'],
  ['our', 'Wr'],
  ['ore', 'or'],
  ['or(?=$|s$)', 'or'],
  ['(?<=w)or', 'R'],
  ['or', 'or'],
  ['(?<=w)ar', 'or'],
  ['arr', 'Ar'],
  ['ar', 'ar'],
  ['err', 'er'],
  ['er|ir(?!e)|ur(?!e)', 'R'],
  ['yr', 'ir'],
  ['oo(?=[kd]$)', 'U'],
  ['oo', 'V'],
  ['ee', 'Y'],
  ['ea(?=d$|ds$|th|v[ey]|sur)', 'e'],
  ['ea', 'Y'],
  ['ei', 'E'],
  ['ey$', 'Y'],
  ['ey', 'E'],
  ['ie(?=[vlfc])', 'Y'],
  ['ies$', 'Yz'],
  ['ied$', 'Yd'],
  ['ie', 'Y'],
  ['ai|ay', 'E'],
  ['au|aw', 'o'],
  ['oa', 'O'],
  ['oe', 'O'],
  ['oi|oy', 'Q'],
  ['ou(?=s$)', 'u'],
  ['ou(?=p)', 'V'],
  ['ou', 'W'],
  ['ow(?=$|s$|n$|ed$|ing$)', 'O'],
  ['ow', 'W'],
  ['ue$|ui|ew|eu', 'V'],
  ['ae', 'Y'],
  // a vowel that a silent e makes long
  ['a(?=[bcdfgklmnpstvz]e(s|d|ly)?$|[bcdfgklmnpstvz]ing$|ste$|bles?$)', 'E'],
  ['e(?=[bcdfgklmnpstvz]e(s|d)?$)', 'Y'],
  ['i(?=[bcdfgklmnpstvz]e(s|d|ly)?$|[bcdfgklmnpstvz]ing$|nd$|ld$)', 'I'],
  ['o(?=[bcdfgklmnpstvz]e(s|d|ly)?$|[bcdfgkmnpstvz]ing$|ld$|st$)', 'O'],
  ['u(?=[bcdfgklmnpstvz]e(s|d)?$|[bcdfgklmnpstvz]ing$)', 'V'],
  ['(?<=[bcdfghjklmnpqrstvwxyz])y$', 'Y'],
  ['^y|(?<=[aeiou])y', 'y'],
  ['y(?=[bcdfgklmnpst]e)', 'I'],
  ['y', 'i'],
  ['(?<=[^aeiou])e$', ''],
  ['^e', 'e'],
  ['^a$', 'u'],
  ['a$', 'u'],
  ['o$', 'O'],
  ['(?<=[aeioudgbvmnlrwY])s$', 'z'],
  ['(?<=[aeiou])s(?=e|i)', 'z'],
  ['x', 'ks'],
  ['j', 'j'],
  ['zz', 'z'],
  ["'", ''],
  ['([bdfklmnprstvz])\\1', '$1'],
  ['a', 'A'],
  ['e', 'e'],
  ['i', 'i'],
  ['o', 'a'],
  ['u', 'u'],
  ['[bdfhklmnprstvwz]', '$&'],
]

/** The letters that a rule's spelling may begin with: of each alternative the first one, what stands before it left out. */
function beginnings(spelling: string): string {
  const bare = spelling.replace(/\(\?(<=|=)[^()]*(\([^()]*\)[^()]*)*\)/g, '')
  return bare
    .split('|')
    .map((one) => /^[\^(]*(?:\[(\w+)\]|(.))/.exec(one))
    .map((hit) => hit?.[1] ?? hit?.[2] ?? '')
    .join('')
}

type Rule = readonly [spelling: RegExp, sounds: string]
let rulesAt: ReadonlyMap<string, readonly Rule[]> | undefined

/** For each letter the rules that may fit at it, in their order. */
function rulesByLetter(): ReadonlyMap<string, readonly Rule[]> {
  const out = new Map<string, Rule[]>()
  for (const [spelling, sounds] of RULES) {
    const rule: Rule = [new RegExp(spelling, 'y'), sounds]
    for (const letter of new Set(beginnings(spelling))) {
      const rules = out.get(letter)
      if (rules) rules.push(rule)
      else out.set(letter, [rule])
    }
  }
  return out
}

/** The sounds of a lower-case word by the rules of English spelling; letters of other scripts sound like nothing. */
export function soundsByRule(word: string): string {
  rulesAt ??= rulesByLetter()
  let out = ''
  for (let i = 0; i < word.length; ) {
    let step = 1
    for (const [spelling, sounds] of rulesAt.get(word[i]!) ?? []) {
      spelling.lastIndex = i
      const hit = spelling.exec(word)
      if (!hit || hit[0] === '') continue
      step = hit[0].length
      out += sounds === '$&' ? hit[0] : sounds === '$1' ? hit[1]! : sounds
      break
    }
    i += step
  }
  return out
}
