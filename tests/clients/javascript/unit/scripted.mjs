/** A fetch that gives what it is told to, one after the other, and remembers what was asked. */
import { Firstoff } from '../../../../clients/javascript/firstoff.js'

export const BASE = 'http://service.example'

/** A JSON answer as the service gives it. */
export function json(body, { status = 200, type, ...headers } = {}) {
  const media = type ?? (status < 400 ? 'application/json' : 'application/problem+json')
  return () => new Response(JSON.stringify(body), { status, headers: { 'content-type': media, ...headers } })
}

/** An answer that is text of some type. */
export const text = (body, type, status = 200, headers = {}) => () =>
  new Response(body, { status, headers: { 'content-type': type, ...headers } })

export const gone = () => {
  throw new TypeError('fetch failed')
}

/** Never answers; ends when it is given up, as fetch does. */
export const silent = (_, { signal }) =>
  new Promise((_, reject) => signal.addEventListener('abort', () => reject(signal.reason)))

/** A problem document. */
export const problem = (status, kind, more = {}, headers = {}) =>
  json(
    { type: `https://firstoff.example/problems/${kind}`, title: kind, status, detail: 'Wrong.', mend: 'Mend it.', ...more },
    { status, ...headers },
  )

/**
 * A client over a script. `calls` holds what was asked: method, address below the base, headers, body. The last answer is
 * given again and again.
 */
export function asking(answers, how = {}) {
  const calls = []
  const fetch = async (address, init) => {
    const answer = answers[Math.min(calls.length, answers.length - 1)]
    const body = init.body === undefined ? undefined : JSON.parse(init.body)
    calls.push({ method: init.method, address: address.slice(BASE.length), headers: init.headers, body, init })
    return answer(address, init)
  }
  return { calls, firstoff: new Firstoff({ base: BASE, fetch, pause: 0, ...how }) }
}

/** Replaces waiting: every pause is over at once and its length is noted; time limits of `timeout` ms never come. */
export function pauses(t, timeout = 10_000) {
  const noted = []
  const { setTimeout: before } = globalThis
  globalThis.setTimeout = (run, milliseconds) => {
    if (milliseconds === timeout) return undefined
    noted.push(milliseconds)
    return before(run, 0)
  }
  t.after(() => {
    globalThis.setTimeout = before
  })
  return noted
}

/** What `promise` rejects with. */
export async function failure(promise) {
  try {
    await promise
  } catch (error) {
    return error
  }
  throw new Error('it did not fail')
}
