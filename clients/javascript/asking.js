/**
 * One question over HTTP: in time, again where that may help, once where several ask the same, and not sent again where
 * what is kept still holds.
 *
 * @typedef {import('./typing.js').Question} Question
 * @typedef {import('./typing.js').Reply} Reply
 * @typedef {{controller: AbortController, waiting: number, answer: Promise<() => unknown>}} Flight
 */
import { Cache } from './cache.js'
import { NoAnswer, Nonsense } from './errors.js'
import { judged } from './judging.js'

/** Answers that say "not now" (RFC 9110, 15.6; RFC 6585, 4). */
const NOT_NOW = new Set([429, 502, 503, 504])
/** Milliseconds. Who asks for a longer wait is not asked again: that is for a person to decide. */
const PATIENCE = 30_000

export class Asker {
  /** @type {Map<string, Flight>} */
  #flights = new Map()

  /** @param {import('./typing.js').How & Required<Omit<import('./typing.js').How, 'language' | 'key'>>} how */
  constructor({ base, fetch, timeout, retries, pause, language, cacheSize }) {
    this.base = base.replace(/\/+$/, '')
    /** @type {typeof globalThis.fetch} */
    this.fetch = (address, init) => fetch(address, init)
    this.timeout = timeout
    this.retries = retries
    this.pause = pause
    this.language = language
    this.cache = new Cache(cacheSize)
  }

  /**
   * @param {Question} question
   * @returns {Promise<any>} the body: an object of the caller's own, or text where the answer is no JSON
   */
  async ask(question) {
    question.signal?.throwIfAborted()
    if (question.method === 'GET') return (await this.#together(question))()
    try {
      return judged(await this.#insisted(question, question.signal), question)()
    } finally {
      // What is told changes answers: a question asked from now on joins none that was asked before.
      if (!question.repeatable) this.#flights.clear()
    }
  }

  /** @param {Question} question */
  #together(question) {
    const key = [question.address, question.accept, question.grounded, this.language].join('\n')
    let flight = this.#flights.get(key)
    if (!flight) {
      const controller = new AbortController()
      flight = { controller, waiting: 0, answer: this.#kept({ ...question, signal: null }, controller.signal) }
      this.#flights.set(key, flight)
    }
    return this.#joined(flight, key, question.signal)
  }

  /** @param {Flight} flight @param {string} key @param {AbortSignal | null} [signal] */
  async #joined(flight, key, signal) {
    let here = true
    const leave = () => {
      if (here) flight.waiting -= 1
      here = false
      if (flight.waiting) return
      if (this.#flights.get(key) === flight) this.#flights.delete(key)
      flight.controller.abort()
    }
    flight.waiting += 1
    signal?.addEventListener('abort', leave)
    try {
      return await given(flight.answer, signal)
    } finally {
      signal?.removeEventListener('abort', leave)
      leave()
    }
  }

  /** @param {Question} question @param {AbortSignal} signal */
  async #kept(question, signal) {
    const key = [question.address, question.accept, this.language].join('\n')
    const kept = this.cache.get(key)
    const headers = kept && { 'if-none-match': kept.etag }
    const reply = await this.#insisted({ ...question, headers }, signal)
    if (reply.status === 304 && !kept) throw new Nonsense('The service says "as before", and nothing was kept.')
    const whole = reply.status === 304 && kept ? kept : reply
    try {
      const answer = judged(whole, question)
      if (whole.etag) this.cache.set(key, whole)
      return answer
    } catch (error) {
      this.cache.delete(key)
      throw error
    }
  }

  /** @param {Question} question @param {AbortSignal | null} [signal] @returns {Promise<Reply>} */
  async #insisted(question, signal) {
    for (let tried = 0; ; tried += 1) {
      const last = !question.repeatable || tried >= this.retries
      let wait = 0
      try {
        const reply = await this.#once(question, signal)
        if (last || !NOT_NOW.has(reply.status) || reply.wait > PATIENCE) return reply
        wait = reply.wait
      } catch (error) {
        if (last || !(error instanceof NoAnswer)) throw error
      }
      await slept(Math.max(wait, Math.random() * this.pause * 2 ** tried), signal)
    }
  }

  /** @param {Question} question @param {AbortSignal | null} [signal] @returns {Promise<Reply>} */
  async #once({ method, address, accept, body, headers = {} }, signal) {
    const controller = new AbortController()
    const stop = () => controller.abort(signal?.reason)
    let timedOut = false
    const timer = setTimeout(() => {
      timedOut = true
      controller.abort()
    }, this.timeout)
    signal?.addEventListener('abort', stop)
    try {
      return await given(this.#sent(method, address, accept, body, headers, controller.signal), controller.signal)
    } catch (cause) {
      signal?.throwIfAborted()
      if (cause instanceof Nonsense) throw cause
      const seconds = this.timeout / 1000
      throw new NoAnswer(timedOut ? `No answer within ${seconds} s.` : 'No answer: there is no way to the service.', {
        timedOut,
        cause,
      })
    } finally {
      clearTimeout(timer)
      signal?.removeEventListener('abort', stop)
      controller.abort() // lets go of a body that nobody reads
    }
  }

  /**
   * @param {string} method @param {string} address @param {string} accept @param {unknown} body
   * @param {Record<string, string>} headers @param {AbortSignal} signal @returns {Promise<Reply>}
   */
  async #sent(method, address, accept, body, headers, signal) {
    /** @type {Record<string, string>} */
    const all = { accept, ...(this.language && { 'accept-language': this.language }), ...headers }
    if (body !== undefined) all['content-type'] = 'application/json'
    const response = await this.fetch(this.base + address, {
      method,
      headers: all,
      body: body === undefined ? undefined : JSON.stringify(body),
      // The service redirects nowhere: who does is somebody else, such as the sign-in page of a network.
      redirect: 'manual',
      signal,
    })
    if (response.type === 'opaqueredirect' || [301, 302, 303, 307, 308].includes(response.status)) {
      throw new Nonsense('The address leads elsewhere. Sign in to the network, or correct the base address.', {
        status: response.status,
      })
    }
    const keep = response.status === 200 && !/\bno-store\b/i.test(response.headers.get('cache-control') ?? '')
    return {
      status: response.status,
      media: (response.headers.get('content-type') ?? '').split(';')[0].trim().toLowerCase(),
      text: response.status === 304 ? '' : await response.text(),
      etag: (keep && response.headers.get('etag')) || '',
      wait: asked(response.headers.get('retry-after')),
    }
  }
}

/** @param {string | null} said Retry-After: seconds, or a date (RFC 9110, 10.2.3) @returns {number} milliseconds */
function asked(said) {
  if (!said) return 0
  if (/^\s*\d+\s*$/.test(said)) return Number(said) * 1000
  const date = Date.parse(said)
  return Number.isNaN(date) ? 0 : Math.max(0, date - Date.now())
}

/**
 * What `promise` gives, or the reason of `signal` as soon as it is given up.
 *
 * @template T
 * @param {Promise<T>} promise @param {AbortSignal | null} [signal] @returns {Promise<T>}
 */
function given(promise, signal) {
  if (!signal) return promise
  return new Promise((resolve, reject) => {
    const stop = () => reject(signal.reason)
    if (signal.aborted) stop()
    signal.addEventListener('abort', stop)
    promise.then(resolve, reject).finally(() => signal.removeEventListener('abort', stop))
  })
}

/** @param {number} milliseconds @param {AbortSignal | null} [signal] */
async function slept(milliseconds, signal) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer
  const over = new Promise((resolve) => {
    timer = setTimeout(resolve, milliseconds)
  })
  try {
    await given(over, signal)
  } finally {
    clearTimeout(timer)
  }
}
