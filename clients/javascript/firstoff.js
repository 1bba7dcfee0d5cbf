/**
 * Asks a firstoff service: what comes off first, what is still live, what is probably wrong.
 *
 *     const firstoff = new Firstoff({ base: 'http://localhost:8080' })
 *     const plan = await firstoff.removalPlan('tgd27-460-s', { reach: ['drum-belt'] })
 *
 * Every question takes its options last, among them `serial` (as on the rating plate) and `signal` (which gives it up),
 * and resolves to the answer as plain objects, the caller's own. Texts of an answer are text: put them into a page with
 * `textContent`.
 *
 * @typedef {import('./typing.js').Schemas} Schemas
 * @typedef {import('./typing.js').Stop} Stop
 * @typedef {import('./typing.js').Asking} Asking
 */
import { Asker } from './asking.js'
import { FirstoffError, NoAnswer, Nonsense, ProblemError, VERSION } from './errors.js'
import { every } from './pages.js'
import { arity, filled, MEDIA, READING, UNGROUNDED, written } from './reading.js'
import { uuid } from './uuid.js'

export { FirstoffError, NoAnswer, Nonsense, ProblemError, VERSION }

/**
 * @template {string} P
 * @typedef {import('./typing.js').Asked<P>} Asked
 */

const JSON_TYPE = 'application/json'
/** Longest address to ask for a plan by GET; a longer one is asked for by POST. */
const LONGEST = 4000

/** A method for each address of READING. @type {new () => import('./typing.js').Reading} */
const Reading = /** @type {any} */ (class {})
for (const [name, address] of Object.entries(READING)) {
  const names = arity(address)
  const how = { accept: MEDIA[name], grounded: !MEDIA[name] && !UNGROUNDED.has(name) }
  Reading.prototype[name] = async function (/** @type {any[]} */ ...given) {
    const { signal, ...query } = given[names] ?? {}
    return this.get(filled(address, given.slice(0, names)), query, { ...how, signal })
  }
}

export class Firstoff extends Reading {
  #asker
  #key

  /** @param {import('./typing.js').How} [how] */
  constructor({
    base = '',
    fetch = globalThis.fetch,
    timeout = 10_000,
    retries = 3,
    pause = 300,
    language,
    cacheSize = 200,
    key,
  } = {}) {
    super()
    const nowhere = !base && fetch === globalThis.fetch && !globalThis.location
    if (nowhere || !/^(https?:\/\/|\/|$)/.test(base)) {
      throw new TypeError(`"${base}" is no base: give the address of the service, such as http://localhost:8080`)
    }
    this.#asker = new Asker({ base, fetch, timeout, retries, pause, language, cacheSize })
    this.#key = key
  }

  /**
   * Symptoms, components, codes and models, best first.
   *
   * @param {string} q @param {Omit<Asked<'/v1/search'>, 'q'>} [options]
   * @returns {Promise<Schemas['SearchAnswer']>}
   */
  async search(q, { signal, ...options } = {}) {
    return this.get('/v1/search', { q, ...options }, { grounded: true, signal })
  }

  /**
   * What may be meant by what is typed so far.
   *
   * @param {string} q @param {Omit<Asked<'/v1/suggest'>, 'q'>} [options]
   * @returns {Promise<Schemas['SuggestAnswer']>}
   */
  async suggest(q, { signal, ...options } = {}) {
    return this.get('/v1/suggest', { q, ...options }, { grounded: true, signal })
  }

  /** Every model, a page at a time. @param {Omit<Asked<'/v1/models'>, 'offset'>} [options] */
  allModels(options) {
    return every((offset) => this.models({ ...options, offset }), (page) => page.models)
  }

  /** Every part. @param {string} model @param {Omit<Asked<'/v1/models/{model}/components'>, 'offset'>} [options] */
  allComponents(model, options) {
    return every((offset) => this.components(model, { ...options, offset }), (page) => page.components)
  }

  /** Every code. @param {string} model @param {Omit<Asked<'/v1/models/{model}/codes'>, 'offset'>} [options] */
  allCodes(model, options) {
    return every((offset) => this.codes(model, { ...options, offset }), (page) => page.codes)
  }

  /**
   * The cheapest plan to the targets and back.
   *
   * @param {string} model @param {Asked<'/v1/models/{model}/removal-plan'>} [options]
   * @returns {Promise<Schemas['RemovalPlan']>}
   */
  async removalPlan(model, { signal, ...asked } = {}) {
    const address = filled('/v1/models/{model}/removal-plan', [model])
    if ((address + written(asked)).length > LONGEST) return this.#computed(address, asked, signal)
    return this.get(address, asked, { grounded: true, signal })
  }

  /**
   * From findings to the next step.
   *
   * @param {string} model @param {Partial<Schemas['DiagnosisRequest']>} findings @param {Stop} [options]
   * @returns {Promise<Schemas['Diagnosis']>}
   */
  async diagnosis(model, findings, options) {
    return this.#computed(filled('/v1/models/{model}/diagnosis', [model]), findings, options?.signal)
  }

  /**
   * The safety record with readings judged.
   *
   * @param {string} model @param {Partial<Schemas['RecordRequest']>} entered @param {Stop} [options]
   * @returns {Promise<Schemas['SafetyRecord']>}
   */
  async judgeRecord(model, entered, options) {
    return this.#computed(filled('/v1/models/{model}/safety-record', [model]), entered, options?.signal)
  }

  /**
   * Tell what a job has shown. It is sent once; where no answer comes, send it again with the same `idempotencyKey` (a
   * UUID), and it counts once.
   *
   * @param {Partial<Schemas['OutcomeReport']> & {model: string}} report
   * @param {{idempotencyKey?: string} & Stop} [options]
   * @returns {Promise<Schemas['OutcomeKept']>}
   */
  async outcome(report, { idempotencyKey, signal } = {}) {
    const headers = { 'idempotency-key': idempotencyKey ?? (await uuid()) }
    return this.post('/v1/outcomes', report, { grounded: true, headers, signal })
  }

  /**
   * Any other address by GET: the parsed body, or text where it is no JSON.
   *
   * @param {string} address @param {object} [query] what is null or undefined is left out, a list repeats
   * @param {Asking} [options]
   * @returns {Promise<any>}
   */
  async get(address, query = {}, { accept = JSON_TYPE, grounded, signal } = {}) {
    const whole = address + written(query)
    return this.#ask({ method: 'GET', address: whole, accept, grounded, repeatable: true, signal })
  }

  /**
   * Any other address by POST, with the key. Sent once, unless `repeatable` says that asking twice changes nothing.
   *
   * @param {string} address @param {unknown} body
   * @param {Asking & {repeatable?: boolean, headers?: Record<string, string>}} [options]
   * @returns {Promise<any>}
   */
  async post(address, body, { accept = JSON_TYPE, grounded, repeatable, headers, signal } = {}) {
    const all = { ...(this.#key && { authorization: `Bearer ${this.#key}` }), ...headers }
    return this.#ask({ method: 'POST', address, accept, grounded, repeatable, body, headers: all, signal })
  }

  /** @param {string} address @param {unknown} body @param {AbortSignal | null} [signal] */
  #computed(address, body, signal) {
    const accept = JSON_TYPE
    return this.#ask({ method: 'POST', address, accept, grounded: true, repeatable: true, body, signal })
  }

  /** @param {import('./typing.js').Question} question @returns {Promise<any>} */
  async #ask(question) {
    if (!/^\/(?![/\\])/.test(question.address)) throw new TypeError(`${question.address} is no address below the base`)
    try {
      return await this.#asker.ask(question)
    } catch (error) {
      const strange = error instanceof Nonsense || (error instanceof ProblemError && error.kind === 'no-such-address')
      if (strange && question.address !== READING.health) await this.#sameVersion(question.signal)
      throw error
    }
  }

  /**
   * Asked only where an answer is strange, so that it costs nothing where all is well.
   *
   * @param {AbortSignal | null} [signal]
   * @throws {Nonsense} the service is of another major version
   */
  async #sameVersion(signal) {
    /** @type {unknown} */
    let version
    try {
      version = (await this.health({ signal })).version
    } catch {
      signal?.throwIfAborted()
      return
    }
    if (typeof version !== 'string' || version.split('.')[0] === VERSION.split('.')[0]) return
    throw new Nonsense(`The service is of version ${version}, this client of ${VERSION}.`, { version })
  }
}
