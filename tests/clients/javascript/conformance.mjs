/**
 * Asks every conformance case of the service at an address through the client: `node conformance.mjs BASE`. Prints a JSON
 * list of [subject, name, by, wrong]: `by` is the method that asked, `wrong` what differs, blank where nothing does.
 */
import assert from 'node:assert/strict'
import { readdir, readFile } from 'node:fs/promises'
import { Firstoff, ProblemError } from '../../../clients/javascript/firstoff.js'
import { READING } from '../../../clients/javascript/reading.js'

const FOLDER = new URL('../../../shared/conformance/', import.meta.url)

/** The method that asks by GET for a path, and the names in it. */
function reader(path) {
  for (const [method, address] of Object.entries(READING)) {
    const pattern = new RegExp(`^${address.replace(/[.]/g, '\\.').replace(/\{\w+\}/g, '([^/]+)')}$`)
    const found = pattern.exec(path)
    if (found) return [method, found.slice(1).map(decodeURIComponent)]
  }
  return []
}

/** Asks a case by the method made for it, and by get or post where it speaks of the protocol. */
function asked(firstoff, { method, path, query, headers = {}, body }) {
  const model = /^\/v1\/models\/([^/]+)\/([^/]+)$/.exec(path)
  const name = model && decodeURIComponent(model[1])
  if (headers.accept) {
    const { accept } = headers
    if (method === 'GET') return ['get', firstoff.get(path, query, { accept })]
    return ['post', firstoff.post(path, body, { accept, repeatable: true })]
  }
  if (method === 'POST') {
    if (path === '/v1/outcomes') return ['outcome', firstoff.outcome(body)]
    if (model?.[2] === 'diagnosis') return ['diagnosis', firstoff.diagnosis(name, body)]
    if (model?.[2] === 'safety-record') return ['judgeRecord', firstoff.judgeRecord(name, body)]
    return ['post', firstoff.post(path, body, { grounded: true })]
  }
  if (path === '/v1/search') return ['search', firstoff.search(query.q, query)]
  if (path === '/v1/suggest') return ['suggest', firstoff.suggest(query.q, query)]
  if (model?.[2] === 'removal-plan') return ['removalPlan', firstoff.removalPlan(name, query)]
  const [reading, names] = reader(path)
  if (reading) return [reading, firstoff[reading](...names, query)]
  return ['get', firstoff.get(path, query, { accept: '*/*' })]
}

/** What the client gave, in the terms of a case. */
async function told(answer) {
  try {
    return { body: await answer }
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error
    return { status: error.status, body: error.body }
  }
}

async function judged(base, { request, answer, again }) {
  const statuses = []
  const fetch = async (address, init) => {
    const tag = request.headers?.['if-none-match']
    const response = await globalThis.fetch(address, tag ? { ...init, headers: { ...init.headers, 'if-none-match': tag } } : init)
    statuses.push(response.status)
    return response
  }
  // A refusal is to be seen as it is, not asked for again.
  const firstoff = new Firstoff({ base, fetch, retries: 0, timeout: 60_000 })
  const expected = answer.status === 200 ? { body: answer.body } : { status: answer.status, body: answer.body }
  const [by, given] = asked(firstoff, request)
  try {
    assert.deepStrictEqual(await told(given), expected)
    assert.equal(statuses[0], answer.status)
    if (again) {
      assert.deepStrictEqual(await told(asked(firstoff, request)[1]), expected)
      assert.deepEqual(statuses, [answer.status, again.status])
    }
  } catch (error) {
    return [by, String(error.message)]
  }
  return [by, '']
}

const [base] = process.argv.slice(2)
const results = []
for (const file of (await readdir(FOLDER)).filter((each) => each.endsWith('.json')).sort()) {
  for (const found of JSON.parse(await readFile(new URL(file, FOLDER), 'utf8'))) {
    // The client neither publishes nor withdraws.
    if (!['GET', 'POST'].includes(found.request.method)) continue
    results.push([file.replace('.json', ''), found.name, ...(await judged(base, found))])
  }
}
console.log(JSON.stringify(results))
