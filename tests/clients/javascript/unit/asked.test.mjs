/** What is asked: addresses, values, bodies and headers. */
import assert from 'node:assert/strict'
import test from 'node:test'
import { READING } from '../../../../clients/javascript/reading.js'
import { asking, failure, json, silent, text } from './scripted.mjs'

const GROUNDED = json({ revision: 'a' })
const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/

for (const [name, address] of Object.entries(READING)) {
  test(`${name} asks ${address}, its names encoded`, async () => {
    const { calls, firstoff } = asking([(_, { headers }) => text('{"revision": "a"}', headers.accept)()])
    const names = [...address.matchAll(/\{/g)].map(() => 'a b/ü?#%')
    await firstoff[name](...names, { serial: '24 1' })
    const expected = address.replace(/\{\w+\}/g, 'a%20b%20%C3%BC%3F%23%25')
    assert.deepEqual([calls[0].method, calls[0].address], ['GET', `${expected}?serial=24+1`])
  })
}

test('lists repeat, an empty one is blank, nothing is left out', async () => {
  const { calls, firstoff } = asking([GROUNDED])
  await firstoff.exposed('m', { off: ['a', 'b&c=d'], states: undefined, tools: [], serial: null })
  assert.equal(calls[0].address, '/v1/models/m/exposed?off=a&off=b%26c%3Dd&tools=')
})

test('numbers and choices are written out', async () => {
  const { calls, firstoff } = asking([GROUNDED])
  await firstoff.livePoints('m', { worst: true, at: ['p'] })
  await firstoff.reading('m', { between: ['p', 'q'], celsius: -5.5 })
  assert.equal(calls[0].address, '/v1/models/m/live-points?worst=true&at=p')
  assert.equal(calls[1].address, '/v1/models/m/reading?between=p&between=q&celsius=-5.5')
})

test('search and suggest take what is typed first', async () => {
  const { calls, firstoff } = asking([GROUNDED])
  await firstoff.search('drum & belt', { model: 'm', limit: 3 })
  await firstoff.suggest('')
  assert.deepEqual(calls.map((each) => each.address), ['/v1/search?q=drum+%26+belt&model=m&limit=3', '/v1/suggest?q='])
})

test('a plan is asked for by GET, and by POST where the address grows long', async () => {
  const { calls, firstoff } = asking([GROUNDED])
  const short = { reach: ['drum-belt'], tools: [] }
  const long = { reach: ['drum-belt'], off: Array.from({ length: 400 }, (_, at) => `panel-${at}`), tools: [] }
  await firstoff.removalPlan('m', short)
  await firstoff.removalPlan('m', { ...long, signal: new AbortController().signal })
  assert.deepEqual([calls[0].method, calls[0].address], ['GET', '/v1/models/m/removal-plan?reach=drum-belt&tools='])
  assert.deepEqual([calls[1].method, calls[1].address, calls[1].body], ['POST', '/v1/models/m/removal-plan', long])
  assert.equal(calls[1].headers['content-type'], 'application/json')
})

test('the longest address that is asked for by GET has 4000 characters', async () => {
  const { calls, firstoff } = asking([GROUNDED])
  const head = '/v1/models/m/removal-plan?reach='.length
  await firstoff.removalPlan('m', { reach: ['x'.repeat(4000 - head)] })
  await firstoff.removalPlan('m', { reach: ['x'.repeat(4001 - head)] })
  assert.deepEqual(calls.map((each) => [each.method, each.address.length]), [['GET', 4000], ['POST', 25]])
})

test('findings and readings are posted, without the key', async () => {
  const { calls, firstoff } = asking([GROUNDED], { key: 'secret' })
  await firstoff.diagnosis('m', { symptoms: ['no-heat'] })
  await firstoff.judgeRecord('m', { done: [] })
  await firstoff.model('m')
  assert.deepEqual(calls.slice(0, 2).map(({ method, address, body }) => [method, address, body]), [
    ['POST', '/v1/models/m/diagnosis', { symptoms: ['no-heat'] }],
    ['POST', '/v1/models/m/safety-record', { done: [] }],
  ])
  assert.ok(calls.every((each) => !('authorization' in each.headers)))
})

test('an outcome goes with the key and a UUID: a new one, or the one that is given', async () => {
  const { calls, firstoff } = asking([GROUNDED], { key: 'secret' })
  const report = { model: 'm', fault: 'f' }
  await firstoff.outcome(report)
  await firstoff.outcome(report)
  await firstoff.outcome(report, { idempotencyKey: 'mine' })
  const keys = calls.map((each) => each.headers['idempotency-key'])
  assert.match(keys[0], UUID)
  assert.match(keys[1], UUID)
  assert.notEqual(keys[0], keys[1])
  assert.equal(keys[2], 'mine')
  assert.deepEqual([calls[0].headers.authorization, calls[0].address, calls[0].body], ['Bearer secret', '/v1/outcomes', report])
})

test('a UUID is made without crypto on the page, as in Node 18', async (t) => {
  const before = Object.getOwnPropertyDescriptor(globalThis, 'crypto')
  Object.defineProperty(globalThis, 'crypto', { value: undefined, configurable: true })
  t.after(() => {
    delete globalThis.crypto
    if (before) Object.defineProperty(globalThis, 'crypto', before)
  })
  const { calls, firstoff } = asking([GROUNDED])
  await firstoff.outcome({ model: 'm' })
  assert.match(calls[0].headers['idempotency-key'], UUID)
})

test('the language is asked for where one is set', async () => {
  const german = asking([GROUNDED], { language: 'de' })
  await german.firstoff.model('m')
  assert.equal(german.calls[0].headers['accept-language'], 'de')
  const none = asking([GROUNDED])
  await none.firstoff.model('m')
  assert.ok(!('accept-language' in none.calls[0].headers))
})

test('what is for the eye is text', async () => {
  const { calls, firstoff } = asking([text('<svg/>', 'image/svg+xml; charset=utf-8')])
  assert.equal(await firstoff.supplyPicture('m', { columns: 2 }), '<svg/>')
  assert.equal(calls[0].headers.accept, 'image/svg+xml')
})

test('any other address by get and post', async () => {
  const { calls, firstoff } = asking([json([1])], { key: 'secret' })
  assert.deepEqual(await firstoff.get('/v1/new', { of: ['a'] }), [1])
  assert.deepEqual(await firstoff.post('/v1/new', { a: 1 }), [1])
  assert.deepEqual(calls.map((each) => each.address), ['/v1/new?of=a', '/v1/new'])
  assert.equal(calls[1].headers.authorization, 'Bearer secret')
})

for (const name of ['', '.', '..', '\ud800', undefined, null, {}, ['m']]) {
  test(`${JSON.stringify(name)} is no name: nothing is asked`, async () => {
    const { calls, firstoff } = asking([GROUNDED])
    const asked = [firstoff.model(name), firstoff.component('m', name), firstoff.removalPlan(name), firstoff.diagnosis(name, {})]
    for (const each of asked) assert.ok((await failure(each)) instanceof TypeError)
    assert.equal(calls.length, 0)
  })
}

for (const address of ['//elsewhere.example/', 'http://elsewhere.example/', '/\\elsewhere.example', 'v1/models', '']) {
  test(`${JSON.stringify(address)} is no address below the base: nothing is asked`, async () => {
    const { calls, firstoff } = asking([GROUNDED])
    assert.ok((await failure(firstoff.get(address))) instanceof TypeError)
    assert.ok((await failure(firstoff.post(address, {}))) instanceof TypeError)
    assert.equal(calls.length, 0)
  })
}

for (const base of ['localhost:8080', 'ftp://service.example', undefined]) {
  test(`${base} is no base in Node`, async () => {
    const { Firstoff } = await import('../../../../clients/javascript/firstoff.js')
    assert.throws(() => new Firstoff({ base }), TypeError)
  })
}

test('a slash at the end of the base does no harm', async () => {
  const { calls, firstoff } = asking([GROUNDED], { base: 'http://service.example/' })
  await firstoff.models()
  assert.equal(calls[0].address, '/v1/models')
})

const page = (revision, total, ...ids) => json({ revision, page: { total }, models: ids.map((id) => ({ id })) })

async function ids(firstoff) {
  const found = []
  for await (const each of firstoff.allModels({ limit: 2 })) found.push(each.id)
  return found
}

test('every page is asked for', async () => {
  const { calls, firstoff } = asking([page('a', 5, 'p', 'q'), page('a', 5, 'r', 's'), page('a', 5, 't')])
  assert.deepEqual(await ids(firstoff), ['p', 'q', 'r', 's', 't'])
  const offsets = calls.map((each) => each.address)
  assert.deepEqual(offsets, [0, 2, 4].map((offset) => `/v1/models?limit=2&offset=${offset}`))
})

test('where the content changes on the way nothing is left out and nothing comes twice', async () => {
  const script = [page('a', 4, 'p', 'q'), page('b', 5, 's', 't'), page('b', 5, 'o', 'p'), page('b', 5, 'q', 's'), page('b', 5, 't')]
  assert.deepEqual(await ids(asking(script).firstoff), ['p', 'q', 'o', 's', 't'])
})

test('an empty page is the last, whatever the total says', async () => {
  const { calls, firstoff } = asking([page('a', 9, 'p'), page('a', 9)])
  assert.deepEqual(await ids(firstoff), ['p'])
  assert.equal(calls.length, 2)
})

test('pages stop when they are given up', async () => {
  const controller = new AbortController()
  const { firstoff } = asking([page('a', 4, 'p', 'q'), silent])
  const pages = firstoff.allModels({ signal: controller.signal })
  await pages.next()
  await pages.next()
  const third = failure(pages.next())
  controller.abort(new Error('enough'))
  assert.equal((await third).message, 'enough')
})
