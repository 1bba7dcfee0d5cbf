/**
 * Asks a firstoff service: what comes off first, what is still live, what is probably wrong.
 *
 *     const firstoff = new Firstoff({ base: 'http://localhost:8080' })
 *     const plan = await firstoff.removalPlan('tgd27-460-s', { reach: ['drum-belt'] })
 *
 * Every question takes its options last, among them `serial` (what stands on the rating plate) and `signal` (to give it
 * up), and resolves to the answer as plain objects, typed by the service's own description in types.d.ts. Texts of an
 * answer are text: put them into a page with `textContent`.
 *
 * @typedef {import('./types.d.ts').components['schemas']} Schemas
 * @typedef {import('./types.d.ts').paths} Paths
 * @typedef {{signal?: AbortSignal | null}} Stop
 */
import { path, written } from './addresses.js'
import { Asker } from './asking.js'
import { FirstoffError, NoAnswer, Nonsense, ProblemError, VERSION } from './errors.js'

export { FirstoffError, NoAnswer, Nonsense, ProblemError, VERSION }

const JSON_TYPE = 'application/json'
/** Longest address to ask by GET; a longer plan is asked for by POST. */
const LONGEST = 4000

/**
 * What an address may be asked by GET, and a signal.
 *
 * @template {keyof Paths} P
 * @typedef {(Paths[P] extends {get: {parameters: {query?: infer Q}}} ? NonNullable<Q> : {}) & Stop} Asked
 */

export class Firstoff {
  #asker
  #key

  /**
   * @param {object} [how]
   * @param {string} [how.base] address of the service; blank for the one a page came from
   * @param {typeof globalThis.fetch} [how.fetch]
   * @param {number} [how.timeout] milliseconds for each try
   * @param {number} [how.retries] how often to ask again where no answer came or the service says "not now"
   * @param {number} [how.pause] milliseconds before the second try, twice as many before each next, times chance
   * @param {string} [how.language] what Accept-Language says
   * @param {number} [how.cacheSize] how many answers to keep
   * @param {string} [how.key] the key that may tell outcomes
   */
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
    this.#asker = new Asker({ base, fetch, timeout, retries, pause, language, cacheSize })
    this.#key = key
  }

  /** Symptoms, components, codes and models, best first. @param {string} q @param {Omit<Asked<'/v1/search'>, 'q'>} [options] @returns {Promise<Schemas['SearchAnswer']>} */
  search(q, options) {
    return this.#read('/v1/search', { q, ...options })
  }

  /** What may be meant by what is typed so far. @param {string} q @param {Omit<Asked<'/v1/suggest'>, 'q'>} [options] @returns {Promise<Schemas['SuggestAnswer']>} */
  suggest(q, options) {
    return this.#read('/v1/suggest', { q, ...options })
  }

  /** A page of models, or those a number may stand for. @param {Asked<'/v1/models'>} [options] @returns {Promise<Schemas['ModelList']>} */
  models(options) {
    return this.#read('/v1/models', options)
  }

  /** Every model, a page at a time. @param {Omit<Asked<'/v1/models'>, 'offset'>} [options] @returns {AsyncGenerator<Schemas['ModelSummary'], void>} */
  allModels(options) {
    return every((offset) => this.models({ ...options, offset }), (page) => page.models)
  }

  /** @param {string} model @param {Asked<'/v1/models/{model}'>} [options] @returns {Promise<Schemas['ModelDetail']>} */
  model(model, options) {
    return this.#read(path`/v1/models/${model}`, options)
  }

  /** A page of the parts. @param {string} model @param {Asked<'/v1/models/{model}/components'>} [options] @returns {Promise<Schemas['ComponentList']>} */
  components(model, options) {
    return this.#read(path`/v1/models/${model}/components`, options)
  }

  /** @param {string} model @param {Omit<Asked<'/v1/models/{model}/components'>, 'offset'>} [options] @returns {AsyncGenerator<Schemas['ComponentSummary'], void>} */
  allComponents(model, options) {
    return every((offset) => this.components(model, { ...options, offset }), (page) => page.components)
  }

  /** @param {string} model @param {string} component @param {Asked<'/v1/models/{model}/components/{component}'>} [options] @returns {Promise<Schemas['ComponentDetail']>} */
  component(model, component, options) {
    return this.#read(path`/v1/models/${model}/components/${component}`, options)
  }

  /** What a part hides. @param {string} model @param {string} component @param {Asked<'/v1/models/{model}/components/{component}/hidden'>} [options] @returns {Promise<Schemas['Hidden']>} */
  hidden(model, component, options) {
    return this.#read(path`/v1/models/${model}/components/${component}/hidden`, options)
  }

  /** Resistance over temperature. @param {string} model @param {string} component @param {Asked<'/v1/models/{model}/components/{component}/curve'>} [options] @returns {Promise<Schemas['ComponentCurves']>} */
  curve(model, component, options) {
    return this.#read(path`/v1/models/${model}/components/${component}/curve`, options)
  }

  /** The cheapest plan to the targets and back. @param {string} model @param {Asked<'/v1/models/{model}/removal-plan'>} [options] @returns {Promise<Schemas['RemovalPlan']>} */
  removalPlan(model, { signal, ...asked } = {}) {
    const address = path`/v1/models/${model}/removal-plan`
    if ((address + written(asked)).length < LONGEST) return this.#read(address, { ...asked, signal })
    return this.#computed(address, asked, signal)
  }

  /** The plans that no other beats. @param {string} model @param {Asked<'/v1/models/{model}/removal-plan/pareto'>} [options] @returns {Promise<Schemas['ParetoAnswer']>} */
  pareto(model, options) {
    return this.#read(path`/v1/models/${model}/removal-plan/pareto`, options)
  }

  /** The plan as SVG text. @param {string} model @param {Asked<'/v1/models/{model}/removal-plan/picture'>} [options] @returns {Promise<string>} */
  planPicture(model, options) {
    return this.#text(path`/v1/models/${model}/removal-plan/picture`, options, 'image/svg+xml')
  }

  /** The plan as a page to print, HTML text. @param {string} model @param {Asked<'/v1/models/{model}/job-sheet'>} [options] @returns {Promise<string>} */
  jobSheet(model, options) {
    return this.#text(path`/v1/models/${model}/job-sheet`, options, 'text/html')
  }

  /** What is worth doing while it is open. @param {string} model @param {Asked<'/v1/models/{model}/while-open'>} [options] @returns {Promise<Schemas['WhileOpen']>} */
  whileOpen(model, options) {
    return this.#read(path`/v1/models/${model}/while-open`, options)
  }

  /** What is within reach now. @param {string} model @param {Asked<'/v1/models/{model}/exposed'>} [options] @returns {Promise<Schemas['Exposed']>} */
  exposed(model, options) {
    return this.#read(path`/v1/models/${model}/exposed`, options)
  }

  /** The state of every point; unknown is never safe. @param {string} model @param {Asked<'/v1/models/{model}/live-points'>} [options] @returns {Promise<Schemas['LivePoints']>} */
  livePoints(model, options) {
    return this.#read(path`/v1/models/${model}/live-points`, options)
  }

  /** The supply as a drawing, SVG text. @param {string} model @param {Asked<'/v1/models/{model}/supply-picture'>} [options] @returns {Promise<string>} */
  supplyPicture(model, options) {
    return this.#text(path`/v1/models/${model}/supply-picture`, options, 'image/svg+xml')
  }

  /** How to make points safe to touch. @param {string} model @param {Asked<'/v1/models/{model}/isolation'>} [options] @returns {Promise<Schemas['IsolationAnswer']>} */
  isolation(model, options) {
    return this.#read(path`/v1/models/${model}/isolation`, options)
  }

  /** Making safe for a plan, and restoring. @param {string} model @param {Asked<'/v1/models/{model}/make-safe'>} [options] @returns {Promise<Schemas['Procedure']>} */
  makeSafe(model, options) {
    return this.#read(path`/v1/models/${model}/make-safe`, options)
  }

  /** Every energy, worst kind first. @param {string} model @param {Asked<'/v1/models/{model}/energies'>} [options] @returns {Promise<Schemas['Energies']>} */
  energies(model, options) {
    return this.#read(path`/v1/models/${model}/energies`, options)
  }

  /** What to take along where there is no signal. @param {string} model @param {{serial?: string | null} & Stop} [options] @returns {Promise<any>} */
  pocket(model, options) {
    return this.#read(path`/v1/models/${model}/pocket`, options)
  }

  /** What a meter should read. @param {string} model @param {Asked<'/v1/models/{model}/reading'>} [options] @returns {Promise<Schemas['ReadingAnswer']>} */
  reading(model, options) {
    return this.#read(path`/v1/models/${model}/reading`, options)
  }

  /** Is the socket in order. @param {string} model @param {Asked<'/v1/models/{model}/socket-check'>} [options] @returns {Promise<Schemas['SocketCheck']>} */
  socketCheck(model, options) {
    return this.#read(path`/v1/models/${model}/socket-check`, options)
  }

  /** Pressure of a refrigerant. @param {string} refrigerant @param {Asked<'/v1/refrigerants/{refrigerant}/saturation'>} [options] @returns {Promise<Schemas['Saturation']>} */
  saturation(refrigerant, { signal, ...query } = {}) {
    return this.get(path`/v1/refrigerants/${refrigerant}/saturation`, query, { signal })
  }

  /** From findings to the next step. @param {string} model @param {Partial<Schemas['DiagnosisRequest']>} findings @param {Stop} [options] @returns {Promise<Schemas['Diagnosis']>} */
  diagnosis(model, findings, options) {
    return this.#computed(path`/v1/models/${model}/diagnosis`, findings, options?.signal)
  }

  /** What to carry. @param {string} model @param {Asked<'/v1/models/{model}/carry'>} [options] @returns {Promise<Schemas['CarryAnswer']>} */
  carry(model, options) {
    return this.#read(path`/v1/models/${model}/carry`, options)
  }

  /** A page of the codes. @param {string} model @param {Asked<'/v1/models/{model}/codes'>} [options] @returns {Promise<Schemas['CodeList']>} */
  codes(model, options) {
    return this.#read(path`/v1/models/${model}/codes`, options)
  }

  /** @param {string} model @param {Omit<Asked<'/v1/models/{model}/codes'>, 'offset'>} [options] @returns {AsyncGenerator<Schemas['CodeSummary'], void>} */
  allCodes(model, options) {
    return every((offset) => this.codes(model, { ...options, offset }), (page) => page.codes)
  }

  /** What a code says, and what it does not. @param {string} model @param {string} code @param {Asked<'/v1/models/{model}/codes/{code}'>} [options] @returns {Promise<Schemas['CodeDetail']>} */
  code(model, code, options) {
    return this.#read(path`/v1/models/${model}/codes/${code}`, options)
  }

  /** How to read stored codes, and test programmes. @param {string} model @param {Asked<'/v1/models/{model}/service-modes'>} [options] @returns {Promise<Schemas['ServiceModeList']>} */
  serviceModes(model, options) {
    return this.#read(path`/v1/models/${model}/service-modes`, options)
  }

  /** What has to be measured, seen and written down before the machine is handed over. @param {string} model @param {Asked<'/v1/models/{model}/safety-record'>} [options] @returns {Promise<Schemas['SafetyRecord']>} */
  safetyRecord(model, options) {
    return this.#read(path`/v1/models/${model}/safety-record`, options)
  }

  /** The record with readings judged. @param {string} model @param {Partial<Schemas['RecordRequest']>} entered @param {Stop} [options] @returns {Promise<Schemas['SafetyRecord']>} */
  judgeRecord(model, entered, options) {
    return this.#computed(path`/v1/models/${model}/safety-record`, entered, options?.signal)
  }

  /** What jobs have shown of a model. @param {string} model @param {Asked<'/v1/models/{model}/outcomes'>} [options] @returns {Promise<Schemas['OutcomeSummary']>} */
  outcomes(model, options) {
    return this.#read(path`/v1/models/${model}/outcomes`, options)
  }

  /**
   * Tell what a job has shown. Sent once: where no answer comes, send it again with the same `idempotencyKey` (a UUID),
   * and it counts once.
   *
   * @param {Partial<Schemas['OutcomeReport']> & {model: string}} report
   * @param {{idempotencyKey?: string} & Stop} [options]
   * @returns {Promise<Schemas['OutcomeKept']>}
   */
  async outcome(report, { idempotencyKey, signal } = {}) {
    return this.#ask({
      method: 'POST',
      address: '/v1/outcomes',
      accept: JSON_TYPE,
      grounded: true,
      body: report,
      headers: { 'idempotency-key': idempotencyKey ?? (await uuid()), ...this.#authorization() },
      signal,
    })
  }

  /** Version of the service. @param {Stop} [options] @returns {Promise<Schemas['Health']>} */
  health(options) {
    return this.get('/healthz', {}, options)
  }

  /**
   * Any other address by GET: the parsed body, or text where it is no JSON.
   *
   * @param {string} address @param {object} [query] @param {{accept?: string} & Stop} [options] @returns {Promise<any>}
   */
  get(address, query = {}, { accept = JSON_TYPE, signal } = {}) {
    return this.#ask({ method: 'GET', address: address + written(query), accept, repeatable: true, signal })
  }

  /**
   * Any other address by POST, with the key. Sent once, unless `repeatable` says that asking twice changes nothing.
   *
   * @param {string} address @param {unknown} body
   * @param {{accept?: string, repeatable?: boolean} & Stop} [options] @returns {Promise<any>}
   */
  post(address, body, { accept = JSON_TYPE, repeatable = false, signal } = {}) {
    return this.#ask({ method: 'POST', address, accept, body, repeatable, headers: this.#authorization(), signal })
  }

  /** @param {string} address @param {Record<string, any> & Stop} [options] */
  #read(address, { signal, ...query } = {}) {
    const whole = address + written(query)
    return this.#ask({ method: 'GET', address: whole, accept: JSON_TYPE, grounded: true, repeatable: true, signal })
  }

  /** @param {string} address @param {(Record<string, any> & Stop) | undefined} options @param {string} accept */
  #text(address, { signal, ...query } = {}, accept) {
    return this.get(address, query, { accept, signal })
  }

  /** @param {string} address @param {unknown} body @param {AbortSignal | null} [signal] */
  #computed(address, body, signal) {
    return this.#ask({ method: 'POST', address, accept: JSON_TYPE, grounded: true, repeatable: true, body, signal })
  }

  /** @returns {Record<string, string>} */
  #authorization() {
    return this.#key ? { authorization: `Bearer ${this.#key}` } : {}
  }

  /** @param {import('./asking.js').Question} question @returns {Promise<any>} */
  async #ask(question) {
    if (!/^\/(?!\/)/.test(question.address)) throw new TypeError(`${question.address} is no address below the base`)
    try {
      return await this.#asker.ask(question)
    } catch (error) {
      const strange = error instanceof Nonsense || (error instanceof ProblemError && error.kind === 'no-such-address')
      if (strange && question.address !== '/healthz') await this.#sameVersion(question.signal)
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

/**
 * Every item of every page. Where the content changes on the way it begins again, and gives what it has not given yet.
 *
 * @template {{page: {total: number}, revision: string}} P
 * @template {{id: string}} T
 * @param {(offset: number) => Promise<P>} ask @param {(page: P) => T[]} items @returns {AsyncGenerator<T, void>}
 */
async function* every(ask, items) {
  const given = new Set()
  /** @type {string | undefined} */
  let revision
  for (let offset = 0; ; ) {
    const page = await ask(offset)
    if (revision !== undefined && revision !== page.revision && offset) {
      offset = 0
      revision = page.revision
      continue
    }
    revision = page.revision
    const found = items(page)
    for (const each of found) {
      if (!given.has(each.id)) yield each
      given.add(each.id)
    }
    offset += found.length
    if (!found.length || offset >= page.page.total) return
  }
}

/** A new UUID, also where a page was not served safely and in Node 18. */
async function uuid() {
  const { webcrypto } = globalThis.crypto ? { webcrypto: globalThis.crypto } : await import('node:crypto')
  const bytes = webcrypto.getRandomValues(new Uint8Array(16))
  bytes[6] = (bytes[6] & 0x0f) | 0x40
  bytes[8] = (bytes[8] & 0x3f) | 0x80
  const hex = Array.from(bytes, (each) => each.toString(16).padStart(2, '0')).join('')
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5')
}
