import { spawn } from 'node:child_process'

/** Opens an address in the user's browser; without one nothing happens: the address was printed. */
export function openInBrowser(address: string): void {
  const [command, ...args] =
    process.platform === 'darwin'
      ? ['open', address]
      : process.platform === 'win32'
        ? ['rundll32', 'url.dll,FileProtocolHandler', address]
        : ['xdg-open', address]
  const run = spawn(command!, args, { detached: true, stdio: 'ignore' })
  run.on('error', () => {})
  run.unref()
}
