import { render } from 'preact'
import { watchVersions } from './new-version.ts'

const root = document.getElementById('app')!

/** The frame is there at once; the reader, which is most of the page, comes after it. */
async function start(): Promise<void> {
  render(<p class="opening">Opening …</p>, root)
  try {
    const [{ App }, { openPage }] = await Promise.all([import('./app.tsx'), import('./page.ts')])
    render(<App page={await openPage()} />, root)
  } catch (error) {
    render(
      <p class="opening" role="alert">
        The page could not open what is kept on this machine ({(error as Error).message}). In a private window a browser
        may refuse to keep anything: open it in an ordinary one.
      </p>,
      root,
    )
  }
}

void start()

// Offline after the first load.
void watchVersions()
