// What the tests need beside npm's packages: a browser, a PostgreSQL server, speech synthesis and recognition.
// Installs what is missing through the system's packages where it may; otherwise says exactly what is missing, and fails
// where CI=true (elsewhere the tests that need it are skipped, and say so).
import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync } from 'node:fs'

const onPath = (command) => (process.env.PATH ?? '').split(':').some((folder) => existsSync(`${folder}/${command}`))
const postgres = () => {
  const root = '/usr/lib/postgresql'
  return onPath('initdb') || (existsSync(root) && readdirSync(root).some((v) => existsSync(`${root}/${v}/bin/initdb`)))
}

/** Debian package, what it is for, and whether it is there. */
const needs = [
  ['chromium', 'tests of the page', () => onPath('chromium')],
  ['postgresql', 'tests of the logbook of a team', postgres],
  ['flite', 'synthesised speech', () => onPath('flite')],
  ['pocketsphinx', 'recognised speech', () => onPath('pocketsphinx_continuous') || onPath('pocketsphinx')],
  ['pocketsphinx-en-us', 'its English model', () => existsSync('/usr/share/pocketsphinx/model/en-us')],
  ['espeak-ng', 'spoken answers', () => onPath('espeak-ng')],
  ['sox', 'sound files', () => onPath('sox')],
  ['bsdutils', 'a terminal for tests of fix', () => onPath('script')],
]

const missing = () => needs.filter(([, , there]) => !there())

let lacking = missing()
if (lacking.length > 0 && onPath('apt-get')) {
  const packages = lacking.map(([name]) => name)
  const asRoot = process.getuid?.() === 0 ? [] : ['sudo', '-n']
  console.log(`installing ${packages.join(', ')}`)
  const run = (...words) => {
    const [command, ...rest] = [...asRoot, ...words]
    return spawnSync(command, rest, {
      stdio: ['ignore', 'ignore', 'inherit'],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    }).status
  }
  const install = () => run('apt-get', 'install', '-y', '-qq', '--no-install-recommends', ...packages)
  if (install() !== 0 && run('apt-get', 'update', '-qq') === 0) install()
  lacking = missing()
}
if (lacking.length > 0) {
  for (const [name, purpose] of lacking) console.error(`missing: Debian package ${name} (${purpose})`)
  console.error(`install them with: apt-get install ${lacking.map(([name]) => name).join(' ')}`)
  if (process.env.CI === 'true') process.exitCode = 1
  else console.error('the tests that need them are skipped')
}
