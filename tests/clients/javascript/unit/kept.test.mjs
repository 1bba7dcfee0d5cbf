/** Answers kept with their ETag, and questions asked together. */
import assert from 'node:assert/strict'
import test from 'node:test'
import { Nonsense } from '../../../../clients/javascript/firstoff.js'
import { asking, failure, gone, json, problem, silent, text } from './scripted.mjs'

const answer = (tag, more) => json({ revision: tag, list: [1] }, { etag: `"${tag}"`, ...more })
const same = () => new Response(null, { status: 304 })
const late = (tag) => () => new Promise((resolve) => setTimeout(() => resolve(answer(tag)()), 20))
const sent = (calls) => calls.map((each) => each.headers['if-none-match'])

test('what is kept is asked for by its ETag and given again', async () => {
  const { calls, firstoff } = asking([answer('a'), same, answer('b'), same])
  assert.equal((await firstoff.model('m')).revision, 'a')
  assert.equal((await firstoff.model('m')).revision, 'a')
  assert.equal((await firstoff.model('m')).revision, 'b')
  assert.equal((await firstoff.model('m')).revision, 'b')
  assert.deepEqual(sent(calls), [undefined, '"a"', '"a"', '"b"'])
})

test('what is done to an answer, the next does not see', async () => {
  const { firstoff } = asking([answer('a'), same])
  const [first, beside] = await Promise.all([firstoff.model('m'), firstoff.model('m')])
  first.list.push(2)
  assert.deepEqual(beside.list, [1])
  beside.list.push(3)
  assert.deepEqual((await firstoff.model('m')).list, [1])
})

test('as many as are allowed are kept, those asked for last', async () => {
  const { calls, firstoff } = asking([answer('a')], { cacheSize: 2 })
  for (const model of ['m', 'n', 'm', 'o', 'm', 'n']) await firstoff.model(model)
  assert.deepEqual(sent(calls), [undefined, undefined, '"a"', undefined, '"a"', undefined])
})

test('nothing is kept where none may be', async () => {
  const { calls, firstoff } = asking([answer('a')], { cacheSize: 0 })
  await firstoff.model('m')
  await firstoff.model('m')
  assert.deepEqual(sent(calls), [undefined, undefined])
})

const NOT_KEPT = {
  'without an ETag': json({ revision: 'a' }),
  'not to be stored': answer('a', { 'cache-control': 'private, No-Store' }),
  'a problem': problem(404, 'not-found', {}, { etag: '"a"' }),
  'not whole': text('{"revision": "a"', 'application/json', 200, { etag: '"a"' }),
  'of another type': text('<p>', 'text/html', 200, { etag: '"a"' }),
}
for (const [name, given] of Object.entries(NOT_KEPT)) {
  test(`an answer is not kept: ${name}`, async () => {
    const { calls, firstoff } = asking([given], { retries: 0 })
    await firstoff.model('m').catch(() => {})
    await firstoff.model('m').catch(() => {})
    assert.deepEqual(sent(calls.filter((each) => each.address === '/v1/models/m')), [undefined, undefined])
  })
}

test('an answer that is no more is forgotten', async () => {
  const { calls, firstoff } = asking([answer('a'), problem(404, 'not-found'), answer('b')])
  await firstoff.model('m')
  assert.equal((await failure(firstoff.model('m'))).kind, 'not-found')
  await firstoff.model('m')
  assert.deepEqual(sent(calls), [undefined, '"a"', undefined])
})

test('an answer that did not come is not forgotten', async () => {
  const { calls, firstoff } = asking([answer('a'), gone, same], { retries: 0 })
  await firstoff.model('m')
  await failure(firstoff.model('m'))
  assert.equal((await firstoff.model('m')).revision, 'a')
  assert.deepEqual(sent(calls), [undefined, '"a"', '"a"'])
})

test('"as before" is nonsense where nothing was kept', async () => {
  const { firstoff } = asking([same])
  assert.ok((await failure(firstoff.model('m'))) instanceof Nonsense)
})

test('representations are kept apart', async () => {
  const linked = json({ '@id': 'm' }, { type: 'application/ld+json', etag: '"l"' })
  const { calls, firstoff } = asking([answer('a'), linked, same, same])
  const path = '/v1/models/m'
  await firstoff.get(path)
  await firstoff.get(path, {}, { accept: 'application/ld+json' })
  assert.equal((await firstoff.get(path)).revision, 'a')
  assert.equal((await firstoff.get(path, {}, { accept: 'application/ld+json' }))['@id'], 'm')
  assert.deepEqual(sent(calls), [undefined, undefined, '"a"', '"l"'])
})

test('the same question asked together goes out once', async () => {
  const { calls, firstoff } = asking([answer('a')])
  const asked = [firstoff.model('m'), firstoff.model('m'), firstoff.model('n'), firstoff.model('m', { serial: '1' })]
  assert.deepEqual((await Promise.all(asked)).map((each) => each.revision), ['a', 'a', 'a', 'a'])
  assert.equal(calls.length, 3)
  await firstoff.model('m')
  assert.equal(calls.length, 4)
})

test('who gives up leaves the other its answer', async () => {
  for (const first of [true, false]) {
    const controller = new AbortController()
    let answerNow
    const { calls, firstoff } = asking([() => new Promise((resolve) => (answerNow = () => resolve(answer('a')())))])
    const signals = first ? [controller.signal, undefined] : [undefined, controller.signal]
    const asked = signals.map((signal) => firstoff.model('m', { signal }).catch((error) => error.name))
    controller.abort()
    await new Promise(setImmediate)
    assert.deepEqual([calls.length, calls[0].init.signal.aborted], [1, false])
    answerNow()
    const [left, right] = await Promise.all(asked)
    assert.deepEqual([first ? left : right, (first ? right : left).revision], ['AbortError', 'a'])
  }
})

test('when all give up the question is given up, and may be asked anew', async () => {
  const controller = new AbortController()
  const { calls, firstoff } = asking([silent, late('a')])
  const asked = [1, 2].map(() => failure(firstoff.model('m', { signal: controller.signal })))
  controller.abort()
  const anew = firstoff.model('m')
  await Promise.all(asked)
  assert.ok(calls[0].init.signal.aborted)
  const joining = firstoff.model('m')
  assert.deepEqual([(await anew).revision, (await joining).revision], ['a', 'a'])
  assert.equal(calls.length, 2)
})

test('a failure is told to all who asked', async () => {
  const { calls, firstoff } = asking([problem(404, 'not-found')])
  const errors = await Promise.all([1, 2].map(() => failure(firstoff.model('m'))))
  assert.deepEqual(errors.map((each) => each.kind), ['not-found', 'not-found'])
  assert.equal(calls.length, 1)
})

test('a question after an outcome joins none from before', async () => {
  const { firstoff } = asking([late('old'), json({ revision: 'told' }), answer('new')])
  const before = firstoff.outcomes('m')
  await firstoff.outcome({ model: 'm' })
  assert.equal((await firstoff.outcomes('m')).revision, 'new')
  assert.equal((await before).revision, 'old')
})

test('computing questions are not joined and not kept', async () => {
  const { calls, firstoff } = asking([answer('a')])
  await Promise.all([firstoff.diagnosis('m', {}), firstoff.diagnosis('m', {})])
  assert.deepEqual(sent(calls), [undefined, undefined])
})
