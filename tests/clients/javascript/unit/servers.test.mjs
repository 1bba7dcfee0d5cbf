/** Against servers that listen: gone, slow, broken, busy, of another version, and running in circles. */
import assert from 'node:assert/strict'
import { once } from 'node:events'
import { createServer } from 'node:http'
import test from 'node:test'
import { Firstoff, NoAnswer, Nonsense } from '../../../../clients/javascript/firstoff.js'
import { failure } from './scripted.mjs'

/** A client of a server that answers by `answer`, and the addresses that were asked. */
async function serving(t, answer, how = {}) {
  const asked = []
  const server = createServer((request, response) => {
    asked.push(`${request.method} ${request.url}`)
    answer(response, request, asked.length)
  })
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  const stop = () => {
    server.closeAllConnections?.()
    server.close()
  }
  t.after(stop)
  const base = `http://127.0.0.1:${server.address().port}`
  return { asked, stop, firstoff: new Firstoff({ base, pause: 1, ...how }) }
}

const say = (response, status, type, body, headers = {}) => {
  response.writeHead(status, { 'content-type': type, ...headers })
  response.end(body)
}
const well = (response) => say(response, 200, 'application/json', '{"revision": "a"}')

test('gone: no answer', async (t) => {
  const { stop, firstoff } = await serving(t, well)
  assert.deepEqual(await firstoff.model('m'), { revision: 'a' })
  stop()
  const error = await failure(firstoff.model('n'))
  assert.ok(error instanceof NoAnswer && !error.timedOut)
})

test('slow: no answer in time', async (t) => {
  const { asked, firstoff } = await serving(t, () => {}, { timeout: 50, retries: 1 })
  const error = await failure(firstoff.model('m'))
  assert.ok(error instanceof NoAnswer && error.timedOut)
  assert.equal(asked.length, 2)
})

test('slow: given up at once', async (t) => {
  const { firstoff } = await serving(t, () => {})
  const error = await failure(firstoff.model('m', { signal: AbortSignal.timeout(30) }))
  assert.equal(error.name, 'TimeoutError')
})

test('hangs up: asked again', async (t) => {
  const { asked, firstoff } = await serving(t, (response, _, count) => (count < 3 ? response.destroy() : well(response)))
  assert.deepEqual(await firstoff.model('m'), { revision: 'a' })
  assert.equal(asked.length, 3)
})

test('hangs up half-way: no answer', async (t) => {
  const { firstoff } = await serving(
    t,
    (response) => {
      response.writeHead(200, { 'content-type': 'application/json', 'content-length': 100 })
      response.write('{"revision": "a"', () => response.destroy())
    },
    { retries: 0 },
  )
  assert.ok((await failure(firstoff.model('m'))) instanceof NoAnswer)
})

test('a page, JSON that is cut off: nonsense', async (t) => {
  for (const [type, body] of [['text/html', '<p>Sign in</p>'], ['application/json', '{"revision": "a"']]) {
    const { firstoff } = await serving(t, (response) => say(response, 200, type, body))
    assert.ok((await failure(firstoff.model('m'))) instanceof Nonsense)
  }
})

test('busy: asked again after the wait', async (t) => {
  const busy = '{"type": "x/out-of-time", "title": "busy"}'
  const { asked, firstoff } = await serving(t, (response, _, count) =>
    count === 1 ? say(response, 503, 'application/problem+json', busy, { 'retry-after': '0' }) : well(response),
  )
  assert.deepEqual(await firstoff.model('m'), { revision: 'a' })
  assert.equal(asked.length, 2)
})

test('of another version: nonsense that says which', async (t) => {
  const { firstoff } = await serving(t, (response, request) =>
    request.url === '/healthz'
      ? say(response, 200, 'application/json', '{"status": "ok", "version": "4.0.0"}')
      : say(response, 200, 'application/json', '{"answer": {}}'),
  )
  assert.equal((await failure(firstoff.model('m'))).version, '4.0.0')
})

test('"as before" and nothing kept: nonsense', async (t) => {
  const { firstoff } = await serving(t, (response) => {
    response.writeHead(304)
    response.end()
  })
  assert.ok((await failure(firstoff.model('m'))) instanceof Nonsense)
})

test('redirects in a circle: nonsense, and the key goes nowhere', async (t) => {
  const seen = []
  const { asked, firstoff } = await serving(
    t,
    (response, request) => {
      seen.push(request.headers.authorization)
      response.writeHead(307, { location: request.url })
      response.end()
    },
    { key: 'secret' },
  )
  assert.ok((await failure(firstoff.model('m'))) instanceof Nonsense)
  assert.ok((await failure(firstoff.outcome({ model: 'm' }))) instanceof Nonsense)
  const paths = asked.filter((each) => !each.endsWith('/healthz'))
  assert.deepEqual(paths, ['GET /v1/models/m', 'POST /v1/outcomes'])
  assert.deepEqual(seen.filter(Boolean), ['Bearer secret'])
})
