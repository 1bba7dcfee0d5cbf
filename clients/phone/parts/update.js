// The service worker that keeps the app, and word of a newer app.

/** Register the worker; `ready(take)` hears of a newer app that `take()` puts in place of this one. */
export async function watchForNewApp(ready) {
  if (!('serviceWorker' in navigator)) return
  const address = new URL('../worker.js', import.meta.url).href
  const trusted = globalThis.trustedTypes
    ? globalThis.trustedTypes.createPolicy('firstoff-worker', { createScriptURL: (text) => (text === address ? text : '') }).createScriptURL(address)
    : address
  try {
    const registration = await navigator.serviceWorker.register(trusted, { scope: new URL('../../', import.meta.url).pathname })
    const waiting = () => {
      const worker = registration.waiting
      if (!worker || !navigator.serviceWorker.controller) return
      ready(() => {
        navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true })
        worker.postMessage('take over')
      })
    }
    waiting()
    registration.addEventListener('updatefound', () =>
      registration.installing?.addEventListener('statechange', () => registration.waiting && waiting()),
    )
  } catch (error) {
    console.warn('The app is not kept for use without signal:', error)
  }
}
