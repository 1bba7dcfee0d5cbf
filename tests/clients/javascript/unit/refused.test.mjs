/** What is answered otherwise than it should be: problems, nonsense, other versions. */
import assert from 'node:assert/strict'
import test from 'node:test'
import { FirstoffError, NoAnswer, Nonsense, ProblemError } from '../../../../clients/javascript/firstoff.js'
import { asking, failure, json, problem, text } from './scripted.mjs'

const ask = (...answers) => failure(asking(answers, { retries: 0 }).firstoff.model('m'))

test('a problem document becomes an error with its members', async () => {
  const members = {
    nearest: ['n'],
    models: ['n', 'o'],
    ranges: ['to 5: a'],
    obstacles: ['b'],
    missing_tools: ['t'],
    fields: [{ where: 'query.limit', wrong: 'too small' }],
    would_do: ['c'],
  }
  const error = await ask(problem(409, 'serial-needed', members))
  assert.ok(error instanceof ProblemError && error instanceof FirstoffError && error instanceof Error)
  assert.deepEqual(
    [error.name, error.kind, error.type, error.title, error.status, error.detail, error.mend, error.message],
    [
      'ProblemError',
      'serial-needed',
      'https://firstoff.example/problems/serial-needed',
      'serial-needed',
      409,
      'Wrong.',
      'Mend it.',
      'Wrong. Mend it.',
    ],
  )
  const { would_do, ...known } = members
  for (const [name, value] of Object.entries(known)) assert.deepEqual(error[name], value)
  assert.deepEqual(error.body.would_do, would_do)
})

test('members of another kind than they should be do no harm', async () => {
  const odd = { detail: 7, mend: null, nearest: 'n', models: [1, 'n', null], ranges: {}, fields: [null, { where: 1 }, 'x'] }
  const error = await ask(problem(404, 'not-found', { ...odd, name: 'x', stack: 'x', message: 'x', status: 200, instance: {} }))
  assert.deepEqual([error.name, error.status, error.detail, error.mend, error.message], ['ProblemError', 404, '', '', 'not-found'])
  assert.deepEqual([error.nearest, error.models, error.ranges], [[], ['n'], []])
  assert.deepEqual(error.fields, [1, 2, 3].map(() => ({ where: '', wrong: '' })))
  assert.match(error.stack, /refused\.test/)
})

test('markup in a problem stays the text it is', async () => {
  const hostile = '<img src=x onerror=alert(1)>'
  const error = await ask(problem(404, 'not-found', { detail: hostile, nearest: [hostile] }))
  assert.deepEqual([error.detail, error.nearest], [hostile, [hostile]])
})

test('names of an object in an answer change no object', async () => {
  const { firstoff } = asking([text('{"revision": "a", "__proto__": {"safe": true}}', 'application/json')])
  await firstoff.model('m')
  assert.equal({}.safe, undefined)
})

const NONSENSE = {
  'a page for an answer': text('<!doctype html><p>Welcome</p>', 'text/html'),
  'a page that says it is JSON': text('<!doctype html>', 'application/json'),
  'JSON that is cut off': text('{"revision": "a", "mo', 'application/json'),
  'nothing at all': text('', 'application/json'),
  'JSON of another type': text('{"revision": "a"}', 'text/plain'),
  'no type': () => new Response(new Uint8Array([123, 125])),
  'linked data that was not asked for': json({ revision: 'a' }, { type: 'application/ld+json' }),
  'no revision': json({ model: 'm' }),
  'a revision that is no text': json({ revision: 7 }),
  'a list': json([]),
  'null': json(null),
  'a number': json(3),
  'a page for a refusal': text('<h1>Not Found</h1>', 'text/html', 404),
  'JSON for a refusal that is no problem': json({ error: 'x' }, { status: 404, type: 'application/json' }),
  'a problem that is cut off': text('{"type": "x", "ti', 'application/problem+json', 404),
  'a problem that is none': json({ error: 'x' }, { status: 500 }),
  'a problem that is null': json(null, { status: 500 }),
  'a redirect': () => new Response(null, { status: 302, headers: { location: 'http://elsewhere.example/' } }),
}
for (const [name, answer] of Object.entries(NONSENSE)) {
  test(`nonsense: ${name}`, async () => {
    const error = await ask(answer)
    assert.ok(error instanceof Nonsense, String(error))
    assert.equal(error.version, undefined)
    assert.equal(typeof error.status, 'number')
  })
}

test('a redirect as a browser shows it', async () => {
  const opaque = () => ({ type: 'opaqueredirect', status: 0, headers: new Headers() })
  assert.ok((await ask(opaque)) instanceof Nonsense)
})

test('no redirect is followed', async () => {
  const { calls, firstoff } = asking([json({ revision: 'a' })])
  await firstoff.model('m')
  await firstoff.diagnosis('m', {})
  assert.deepEqual(calls.map((each) => each.init.redirect), ['manual', 'manual'])
})

for (const status of [429, 502, 503, 504]) {
  test(`a page with ${status} from something before the service is no answer`, async () => {
    const error = await ask(text('<h1>Bad gateway</h1>', 'text/html', status))
    assert.ok(error instanceof NoAnswer)
    assert.deepEqual([error.timedOut, error.status], [false, status])
  })
}

test('a picture that is a page is nonsense', async () => {
  const { firstoff } = asking([text('<p>', 'text/html')])
  assert.ok((await failure(firstoff.supplyPicture('m'))) instanceof Nonsense)
})

const other = (version) => (address) =>
  address.endsWith('/healthz') ? json({ status: 'ok', version })() : json({ answer: 'of another shape' })()

test('an answer of another shape from a service of another version says so', async () => {
  const error = await ask(other('3.1.0'))
  assert.ok(error instanceof Nonsense)
  assert.equal(error.version, '3.1.0')
  assert.match(error.message, /3\.1\.0/)
})

test('an address that another version does not have says so', async () => {
  const moved = (address) => (address.endsWith('/healthz') ? other('2.0.0') : problem(404, 'no-such-address'))(address)
  assert.equal((await ask(moved)).version, '2.0.0')
})

for (const version of ['0.1.0', '0.9.3', 7, null]) {
  test(`a strange answer of version ${version} is told as it is`, async () => {
    const error = await ask(other(version))
    assert.match(error.message, /revision/)
    assert.equal(error.version, undefined)
  })
}

test('an address that is not there in the same version stays a problem', async () => {
  const { calls, firstoff } = asking([
    (address) => (address.endsWith('/healthz') ? other('0.2.0') : problem(404, 'no-such-address'))(address),
  ])
  assert.equal((await failure(firstoff.get('/v1/nothing'))).kind, 'no-such-address')
  assert.deepEqual(calls.map((each) => each.address), ['/v1/nothing', '/healthz'])
})

test('where all is well the version is not asked for', async () => {
  const { calls, firstoff } = asking([json({ revision: 'a' })])
  await firstoff.model('m')
  assert.equal(calls.length, 1)
})
