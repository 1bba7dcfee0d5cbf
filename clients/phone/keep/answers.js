// A `fetch` that keeps what the service answered, as it was sent, and gives it again where the service is not there.
//
// Answers that cannot be kept for every question are computed from the pocket copy of the machine, to the letter as the
// service computes them: live points with any devices open, and the judging of a safety record.

import { livePoints } from '../offline/circuit.js'
import { judged } from '../offline/record.js'

const JSON_TYPE = /^application\/(ld\+)?json\b/
const MODEL = /^(\/v1\/models\/[^/]+)\/(live-points|safety-record)$/

/** An address as path and query, whatever stands before `/v1/`: a service may be served below a path of its own. */
function placeOf(address) {
  const { pathname, searchParams } = new URL(address, 'http://firstoff.invalid')
  return { path: pathname.slice(Math.max(0, pathname.indexOf('/v1/'))), query: searchParams }
}

/** One name for one question: method, path, sorted query, body. */
export function keyOf(method, address, body = '') {
  const { path, query } = placeOf(address)
  const asked = [...query].map(([name, value]) => `${name}=${value}`).sort()
  return [method, path, asked.join('&'), body].join('\n').trimEnd()
}

/**
 * @param {object} given
 * @param {typeof fetch} given.fetch asks the service
 * @param {object} given.answers the store to keep answers in (database.js)
 * @param {(method: string, address: string) => boolean} given.keeps whether an answer is kept
 * @param {number} given.patience milliseconds before a kept answer is taken in place of a slow service
 * @param {() => boolean} given.offline whether the phone says that there is no signal
 * @param {(told: {key: string, asOf: string | null, error?: Error}) => void} given.told hears of every answer: the
 *   date of a kept one, null for one of the service; `gone` where the service has no such machine any more
 */
export function keepingFetch({ fetch, answers, keeps = () => true, patience = 4000, offline = () => false, told = () => {} }) {
  return async function kept(address, init = {}) {
    const method = (init.method ?? 'GET').toUpperCase()
    const key = keyOf(method, String(address), init.body ?? '')
    const held = await answers.get(key)
    const inPlace = async (gone = false) => {
      const entry = held ?? (await computed(answers, method, String(address), init.body))
      return entry && again(entry, key, told, gone)
    }
    if (offline()) {
      const entry = await inPlace()
      if (entry) return entry
      throw new TypeError('There is no signal, and this answer is not kept on the phone.')
    }
    try {
      const asked = fetch(address, init)
      const slow = await late(asked, patience)
      const early = slow ? await inPlace() : null
      if (early) return early
      const response = await asked
      if (response.status === 404 && isProblem(response)) return (await inPlace(true)) ?? response
      if (response.status < 500 && isProblem(response)) return heard(response, key, told)
      if (response.status === 304) return heard(response, key, told)
      const answer = response.ok ? await sound(response.clone()) : null
      if (answer === null) return (await inPlace()) ?? response
      if (keeps(method, String(address))) await keep(answers, key, answer, told)
      return heard(response, key, told)
    } catch (error) {
      if (init.signal?.aborted) throw error
      const entry = await inPlace()
      if (entry) return entry
      throw error
    }
  }
}

function heard(response, key, told) {
  told({ key, asOf: null })
  return response
}

/** Whether a promise takes longer than `milliseconds`. */
function late(promise, milliseconds) {
  return new Promise((resolve) => {
    const timer = setTimeout(() => resolve(true), milliseconds)
    promise.catch(() => {}).finally(() => (clearTimeout(timer), resolve(false)))
  })
}

const type = (response) => response.headers.get('content-type') ?? ''
const isProblem = (response) => /problem\+json/.test(type(response))

/** An answer of this service as it is kept; null for anything else, such as the log-in page of a network. */
async function sound(response) {
  if (!JSON_TYPE.test(type(response))) return null
  const body = await response.text()
  try {
    const { revision } = JSON.parse(body)
    return typeof revision === 'string' ? { body, type: type(response), revision } : null
  } catch {
    return null
  }
}

async function keep(answers, key, answer, told) {
  try {
    await answers.put(key, { ...answer, asOf: new Date().toISOString() })
  } catch (error) {
    told({ key, asOf: null, error })
  }
}

/** A kept answer once more; `gone` where the service says that there is no such machine now. */
function again(entry, key, told, gone) {
  told({ key, asOf: entry.asOf, gone })
  return new Response(entry.body, { headers: { 'content-type': entry.type } })
}

async function computed(answers, method, address, body) {
  const { path, query } = placeOf(address)
  const found = MODEL.exec(path)
  if (!found) return null
  const serial = method === 'POST' ? JSON.parse(body).serial : query.get('serial')
  const given = serial ? `?serial=${encodeURIComponent(serial)}` : ''
  const answer = found[2] === 'live-points' ? live(answers, found[1], query, given) : record(answers, found[1], method, body, given)
  return answer.catch(() => null)
}

async function live(answers, model, query, given) {
  const entry = await answers.get(keyOf('GET', `${model}/pocket${given}`))
  const allowed = new Set(['opened', 'released', 'serial'])
  if (!entry || [...query.keys()].some((name) => !allowed.has(name))) return null
  const pocket = JSON.parse(entry.body)
  if (!pocket.circuit) return null
  const list = (name) => query.getAll(name).flatMap((each) => each.split(',')).filter(Boolean)
  return asSent(livePoints(pocket, { opened: list('opened'), released: list('released') }), entry)
}

async function record(answers, model, method, body, given) {
  if (method !== 'POST') return null
  const { done, readings = [], confirmed = [] } = JSON.parse(body)
  const asked = new URLSearchParams(given.slice(1))
  for (const each of done ?? []) asked.append('done', each)
  const entry = await answers.get(keyOf('GET', `${model}/safety-record?${asked}`))
  return entry ? asSent(judged(JSON.parse(entry.body), { readings, confirmed }), entry) : null
}

function asSent(body, entry) {
  return { body: JSON.stringify(body), type: 'application/json', asOf: entry.asOf }
}
