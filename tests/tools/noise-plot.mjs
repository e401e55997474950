// F1 and the share of right values among the sure ones against word error, as a small SVG.

const WIDTH = 560
const HEIGHT = 320
const LEFT = 48
const BOTTOM = 40
const x = (error) => LEFT + (error / 35) * (WIDTH - LEFT - 150)
const y = (percent) => HEIGHT - BOTTOM - (percent / 100) * (HEIGHT - BOTTOM - 16)
const at = (value) => value.toFixed(1)

/** `rows` with form, wordError, f1 and sure, all in percent. Colour and dash both tell the lines apart. */
export function noisePlot(rows) {
  const lines = [
    ['written', 'f1', '#1b5e9b', '', 'F1'],
    ['bare', 'f1', '#1b5e9b', '5 4', 'F1, bare'],
    ['written', 'sure', '#b3541e', '', 'sure and right'],
    ['bare', 'sure', '#b3541e', '5 4', 'sure and right, bare'],
  ]
  const drawn = lines.map(([form, key, colour, dash, name], i) => {
    const points = rows.filter((row) => row.form === form)
    const path = points.map((row) => `${at(x(row.wordError))},${at(y(row[key]))}`).join(' ')
    const label = 24 + i * 20
    return `<polyline points="${path}" fill="none" stroke="${colour}" stroke-width="2" stroke-dasharray="${dash}"/>
<line x1="${WIDTH - 140}" y1="${label}" x2="${WIDTH - 116}" y2="${label}" stroke="${colour}" stroke-width="2" stroke-dasharray="${dash}"/>
<text x="${WIDTH - 110}" y="${label + 4}">${name}</text>`
  })
  const rules = [0, 20, 40, 60, 80, 100].map(
    (percent) =>
      `<line x1="${LEFT}" y1="${at(y(percent))}" x2="${at(x(35))}" y2="${at(y(percent))}" stroke="#ddd"/><text x="${LEFT - 8}" y="${at(y(percent) + 4)}" text-anchor="end">${percent}</text>`,
  )
  const ticks = [0, 10, 20, 30].map(
    (error) => `<text x="${at(x(error))}" y="${HEIGHT - BOTTOM + 18}" text-anchor="middle">${error}</text>`,
  )
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="11" role="img" aria-label="F1 and share of right values among sure ones against word error rate">
<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>
${[...rules, ...ticks, ...drawn].join('\n')}
<text x="${at(x(17.5))}" y="${HEIGHT - 6}" text-anchor="middle">word error, %</text>
</svg>
`
}
