import { render } from 'preact'
import { App } from './app.tsx'

render(<App />, document.getElementById('app')!)

// Offline after the first load. Over plain http from elsewhere than this machine there is no service worker.
if ('serviceWorker' in navigator) navigator.serviceWorker.register('service-worker.js').catch(() => {})
