// Keeps the app itself. What the service answers is kept by the app (keep/answers.js), by its ordinary addresses.
// The service puts FILES, the addresses of the app, and VERSION, the digest of them all, before this text.

const KEPT = `firstoff-${VERSION}`
const ROOT = new URL('../', self.location.href)

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches.open(KEPT).then((cache) =>
      cache.addAll(FILES.map((file) => new Request(new URL(file, ROOT), { cache: 'no-cache' }))),
    ),
  )
})

self.addEventListener('message', (event) => {
  if (event.data === 'take over') self.skipWaiting()
})

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name.startsWith('firstoff-') && name !== KEPT).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  )
})

self.addEventListener('fetch', (event) => {
  const address = new URL(event.request.url)
  const ours = address.href === ROOT.href || FILES.some((file) => new URL(file, ROOT).pathname === address.pathname)
  if (event.request.method !== 'GET' || address.origin !== ROOT.origin || !ours) return
  event.respondWith(
    caches
      .open(KEPT)
      .then((cache) => cache.match(event.request, { ignoreSearch: true, ignoreVary: true }))
      .then((kept) => kept ?? fetch(event.request)),
  )
})
