/** In time, and again where that may help. */
import assert from 'node:assert/strict'
import test from 'node:test'
import { NoAnswer, ProblemError } from '../../../../clients/javascript/firstoff.js'
import { asking, failure, gone, json, pauses, problem, silent, text } from './scripted.mjs'

const WELL = json({ revision: 'a' })
const QUESTIONS = {
  'a model': (firstoff, options) => firstoff.model('m', options),
  'a plan by POST': (firstoff, options) => firstoff.removalPlan('m', { off: ['x'.repeat(4000)], ...options }),
  'a diagnosis': (firstoff, options) => firstoff.diagnosis('m', {}, options),
  'a judged record': (firstoff, options) => firstoff.judgeRecord('m', {}, options),
}

for (const [name, ask] of Object.entries(QUESTIONS)) {
  for (const trouble of [gone, ...[429, 502, 503, 504].map((status) => problem(status, 'busy'))]) {
    test(`${name} is asked again after ${trouble === gone ? 'no answer' : trouble().status}`, async () => {
      const { calls, firstoff } = asking([trouble, trouble, WELL])
      assert.deepEqual(await ask(firstoff), { revision: 'a' })
      assert.equal(calls.length, 3)
    })
  }

  test(`${name} is asked four times at the most`, async () => {
    const { calls, firstoff } = asking([gone])
    const error = await failure(ask(firstoff))
    assert.ok(error instanceof NoAnswer)
    assert.equal(error.timedOut, false)
    assert.match(error.cause.message, /fetch failed/)
    assert.equal(calls.length, 4)
  })

  for (const status of [400, 404, 409, 422, 500]) {
    test(`${name} is not asked again after ${status}`, async () => {
      const { calls, firstoff } = asking([problem(status, 'wrong'), WELL])
      assert.equal((await failure(ask(firstoff))).status, status)
      assert.equal(calls.length, 1)
    })
  }

  test(`${name} that takes too long is asked again`, async () => {
    const { calls, firstoff } = asking([silent, WELL], { timeout: 5 })
    assert.deepEqual(await ask(firstoff), { revision: 'a' })
    assert.equal(calls.length, 2)
    assert.ok(calls[0].init.signal.aborted)
  })

  test(`${name} that always takes too long has timed out`, async () => {
    const { calls, firstoff } = asking([silent], { timeout: 5, retries: 1 })
    const error = await failure(ask(firstoff))
    assert.ok(error instanceof NoAnswer && error.timedOut)
    assert.equal(calls.length, 2)
  })

  test(`${name} given up ends at once, with the reason`, async () => {
    const controller = new AbortController()
    const { calls, firstoff } = asking([silent])
    const asked = failure(ask(firstoff, { signal: controller.signal }))
    controller.abort(new Error('enough'))
    assert.equal((await asked).message, 'enough')
    assert.ok(calls[0].init.signal.aborted)
  })

  test(`${name} given up beforehand is not asked`, async () => {
    const { calls, firstoff } = asking([WELL])
    assert.equal((await failure(ask(firstoff, { signal: AbortSignal.abort() }))).name, 'AbortError')
    assert.equal(calls.length, 0)
  })

  test(`${name} given up in a pause is not asked again`, async () => {
    const controller = new AbortController()
    const { calls, firstoff } = asking([problem(503, 'busy', {}, { 'retry-after': '20' })])
    const asked = failure(ask(firstoff, { signal: controller.signal }))
    setTimeout(() => controller.abort(), 10)
    assert.equal((await asked).name, 'AbortError')
    assert.equal(calls.length, 1)
  })
}

test('a body that stalls is no answer in time', async () => {
  const stalling = (_, { signal }) => {
    const body = new ReadableStream({
      start(stream) {
        stream.enqueue(new TextEncoder().encode('{"revision"'))
        signal.addEventListener('abort', () => stream.error(signal.reason))
      },
    })
    return new Response(body, { headers: { 'content-type': 'application/json' } })
  }
  const { firstoff } = asking([stalling], { timeout: 10, retries: 0 })
  assert.ok((await failure(firstoff.model('m'))).timedOut)
})

test('a fetch that does not heed its signal is left behind', async () => {
  const { firstoff } = asking([() => new Promise(() => {})], { timeout: 5, retries: 0 })
  assert.ok((await failure(firstoff.model('m'))).timedOut)
})

for (const trouble of [gone, problem(503, 'state-failed'), text('busy', 'text/plain', 502)]) {
  test(`an outcome is told once: ${trouble.name || trouble().status}`, async () => {
    const { calls, firstoff } = asking([trouble, WELL])
    const error = await failure(firstoff.outcome({ model: 'm' }))
    assert.ok(error instanceof NoAnswer || error instanceof ProblemError)
    assert.equal(calls.length, 1)
  })
}

test('any post is sent once, unless it may be repeated', async () => {
  const once = asking([gone, WELL])
  await failure(once.firstoff.post('/v1/new', {}))
  assert.equal(once.calls.length, 1)
  const twice = asking([gone, WELL])
  assert.deepEqual(await twice.firstoff.post('/v1/new', {}, { repeatable: true }), { revision: 'a' })
  assert.equal(twice.calls.length, 2)
})

for (const [chance, expected] of [[0, [0, 0, 0]], [0.5, [150, 300, 600]], [1, [300, 600, 1200]]]) {
  test(`pauses double, times chance: ${chance}`, async (t) => {
    t.mock.method(Math, 'random', () => chance)
    const noted = pauses(t)
    await failure(asking([gone], { pause: 300 }).firstoff.model('m'))
    assert.deepEqual(noted, expected)
  })
}

const WAITS = [
  ['3', 3000], // seconds
  [' 0 ', 0],
  ['30', 30_000], // the longest that is waited for
  ['Thu, 01 Jan 1970 00:00:00 GMT', 0], // a date that is past
  ['soon', 0], // neither
  ['-5', 0],
]
for (const [said, expected] of WAITS) {
  test(`Retry-After: ${said} is waited for`, async (t) => {
    const noted = pauses(t)
    const { firstoff } = asking([problem(503, 'busy', {}, { 'retry-after': said }), WELL])
    await firstoff.model('m')
    assert.deepEqual(noted, [expected])
  })
}

test('Retry-After as a date to come is waited for', async (t) => {
  const noted = pauses(t)
  t.mock.method(Date, 'now', () => Date.parse('2026-11-28T10:00:00Z'))
  const headers = { 'retry-after': 'Sat, 28 Nov 2026 10:00:07 GMT' }
  await asking([problem(429, 'busy', {}, headers), WELL]).firstoff.model('m')
  assert.deepEqual(noted, [7000])
})

test('who asks for a longer wait than half a minute is not asked again', async (t) => {
  const noted = pauses(t)
  const { calls, firstoff } = asking([problem(503, 'busy', {}, { 'retry-after': '31' })])
  assert.equal((await failure(firstoff.model('m'))).kind, 'busy')
  assert.deepEqual([calls.length, noted], [1, []])
})
