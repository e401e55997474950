// Fits how likely words are to call a hive and writes src/hives/weights.json, fine-weights.json, cue-net.json, call-net.json and
// common-words.json.
// usage: node tests/tools/fit-hives.mjs [--dry] [--folds [--show]]
// --dry writes nothing; --folds prints how it does on notes it has not seen, and --show where it goes wrong;
// WHY=note:form:offset with --folds prints what spoke for and against a call.
import {
  dataOf,
  dataOfHiveNotes,
  dataOfPhrases,
  dataOfShortNotes,
  foldOf,
  inside,
  learn,
  learnedOfFolds,
  right,
  sayable,
  scorerOf,
  train,
  withCues,
  withNets,
} from './hives.mjs'

const root = new URL('../../', import.meta.url)
const whole = [...dataOf('fit', true), ...dataOf('told'), ...dataOf('walks')]
const wholeMarked = dataOfHiveNotes(false, true)
const phrasesAlone = dataOfPhrases()
const shortAlone = dataOfShortNotes(150)
const rough = train(
  [...whole, ...wholeMarked, ...phrasesAlone, ...shortAlone].filter((d) => !d.whole),
  1,
)
const known = withNets(
  [...sayable(whole, rough), ...sayable(wholeMarked, rough), ...phrasesAlone, ...shortAlone],
  rough,
)
const isMarked = ({ note }) => /^[p-t]-\d/.test(note)
const isShort = ({ note }) => note.startsWith('short')
const phrases = known.data.filter(({ form }) => form === 'phrase')
const short = known.data.filter(isShort)
const marked = known.data.filter(isMarked)
const fit = known.data.filter((d) => d.form !== 'phrase' && !isShort(d) && !isMarked(d))
const packed = known.net()
const net = inside.callNet(packed)
const own = dataOf('own kept')
const alone = {
  kept: dataOf('kept'),
  'told kept': dataOf('told kept'),
  'own kept': own.filter((d) => !/^[efg]/.test(d.note)),
  'e kept': own.filter((d) => d.note.startsWith('e')),
  'f kept': own.filter((d) => d.note.startsWith('f')),
  'g kept': own.filter((d) => d.note.startsWith('g')),
  'marked kept': dataOfHiveNotes(true),
}
const parts = Object.fromEntries(Object.entries(alone).map(([name, data]) => [name, withCues(data, net, known.words)]))
console.log(
  fit.length,
  'notes;',
  fit.reduce((n, x) => n + x.due.length, 0),
  'facts;',
  fit.reduce((n, x) => n + x.calls.length, 0),
  'maybe calls',
)

const wrongPhrases = (scorer) => phrases.filter(({ calls, due }) => inside.follow(calls, scorer, due, 0)[0].wrong > 0)

function show(name, data, learned) {
  const forms = ['written', 'bare', 'with a yard file']
  const shares = [...forms, ...['beginning', 'stretch'].flatMap((what) => forms.map((form) => `${what} ${form}`))]
    .filter((form) => data.some((d) => d.form === form))
    .map((form) => `${form} ${right(data, learned, form).toFixed(1)}`)
  console.log(name.padEnd(16), shares.join(', '))
}
/** What went wrong in notes that the weights had not seen: calls taken and left, and the facts that missed. */
function showWrong(held) {
  const rows = held
    .map((d) => ({
      d,
      path: inside.follow(d.calls, scorerOf(d.learned), d.due, 0)[0],
      best: inside.follow(d.calls, scorerOf(d.learned), d.due, -50)[0],
    }))
    .sort((a, b) => b.path.wrong - a.path.wrong)
  for (const { d, path, best } of rows) {
    if (path.wrong === 0) break
    const list = (p) => {
      const out = []
      for (let at = p; at?.call; at = at.before)
        out.push(`${at.labels.join('+')}@${at.call.call.start}${at.call.call.kind[0]}`)
      return out.reverse().join(' ')
    }
    console.log(`\n== ${d.note} ${d.form}: ${path.wrong} of ${d.due.length} wrong, ${best.wrong} at best`)
    console.log('  took ', list(path))
    console.log('  right', list(best))
  }
}
/** What spoke for and against a call: WHY=note:form:offset */
function why(held) {
  for (const ask of process.env.WHY.split(' ')) {
    const [note, form, at] = ask.split(':')
    const d = held.find((x) => x.note === note && x.form === form)
    const best = inside.follow(d.calls, scorerOf(d.learned), d.due, -50)[0]
    for (let p = best; p?.call; p = p.before)
      if (p.call.call.start === Number(at)) {
        const { how, cues } = inside.stepTaken(p)
        const all = [...p.call.cues, ...cues.map((i) => inside.STEP_CUES[i])]
        console.log(
          note,
          at,
          p.labels.join('+'),
          inside.HOW[how],
          all
            .map((c) => [c, d.learned.weights.has(c) ? inside.worthIn(d.learned.weights.get(c), how) : 0])
            .sort((x, y) => Math.abs(y[1]) - Math.abs(x[1]))
            .slice(0, 40)
            .map(([c, x]) => `${c} ${x.toFixed(2)}`)
            .join(', '),
        )
      }
  }
}
if (process.argv.includes('--folds')) {
  const folds = learnedOfFolds(known.data)
  const held = [...fit, ...marked].map((d) => ({ ...d, learned: folds[foldOf(d.note)] }))
  if (process.argv.includes('--show')) showWrong(held)
  if (process.env.WHY) why(held)
  for (const [name, some] of [
    ['folds, a to d', /^(?![efgpqr]-)/],
    ['folds, e to g', /^[efg]-/],
    ['folds, told', /^([h-ou-z]|[a-z]{2})-\d\d-/],
    ['folds, marked', /^[p-t]-\d/],
    ['folds, all', /./],
  ])
    show(
      name,
      held.filter(({ note }) => some.test(note)),
      null,
    )
}
const learned = learn([...fit, ...marked, ...phrases, ...short])
console.log(learned.weights.size, 'weights')
if (!process.argv.includes('--dry')) {
  const { writeFileSync } = await import('node:fs')
  const write = (name, packed) =>
    writeFileSync(new URL(`src/hives/${name}.json`, root), `${JSON.stringify(packed, null, 2)}\n`)
  write('weights', inside.packWeights(learned.weights, 'coarse'))
  write('fine-weights', inside.packWeights(learned.weights, 'fine'))
  write('cue-net', inside.packCueNet(learned.cueNet))
  write('call-net', packed)
  write('common-words', inside.packCommonWords(known.words.all()))
}
show('fit', fit, learned)
show('short', withCues(dataOfShortNotes(50, 2), net, known.words), learned)
console.log(`phrases          ${wrongPhrases(scorerOf(learned)).length} of ${phrases.length} wrong`)
for (const [name, data] of Object.entries(parts)) show(name, data, learned)
// the best that any path could do
const scorer = scorerOf(learned)
for (const [name, data] of Object.entries({ fit, marked, ...parts })) {
  for (const form of ['written', 'bare']) {
    let n = 0,
      ok = 0
    for (const d of data) {
      if (d.form !== form) continue
      n += d.due.length
      ok += d.due.length - inside.follow(d.calls, scorer, d.due, -50)[0].wrong
    }
    console.log('ceiling', name, form, ((100 * ok) / n).toFixed(1))
  }
}
