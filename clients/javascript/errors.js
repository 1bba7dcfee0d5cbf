/**
 * What can go wrong. Every error of this client is a FirstoffError:
 *
 *     FirstoffError
 *     ├── ProblemError   the service answered with a problem document (RFC 9457): what is wrong, how to mend it
 *     ├── NoAnswer       no answer came: no network, too slow, or the service is down
 *     └── Nonsense       something answered, but not as this service does
 *
 * A question given up by its `signal` rejects with the signal's reason, which is none of these.
 */

/** The version of the service that this client was made for; another major one is not understood. */
export const VERSION = '0.1.0'

export class FirstoffError extends Error {
  get name() {
    return this.constructor.name
  }
}

/** @param {unknown} value */
const words = (value) => (typeof value === 'string' ? value : '')
/** @param {unknown} value @returns {string[]} */
const list = (value) => (Array.isArray(value) ? value.filter((each) => typeof each === 'string') : [])

/** A problem document. Its texts may quote what was asked: show them as text, never as markup. */
export class ProblemError extends FirstoffError {
  /**
   * @param {number} status of the answer
   * @param {Record<string, unknown>} body the problem document
   */
  constructor(status, body) {
    super([body.detail, body.mend].map(words).filter(Boolean).join(' ') || words(body.title) || `status ${status}`)
    this.status = status
    /** All of the document, for members that have no name here. */
    this.body = body
    this.type = words(body.type)
    /** Last part of the type: `not-found`, `serial-needed`, `target-unreachable` and so on. */
    this.kind = this.type.slice(this.type.lastIndexOf('/') + 1)
    this.title = words(body.title)
    /** What is wrong, in a sentence. */
    this.detail = words(body.detail)
    /** What to do about it. */
    this.mend = words(body.mend)
    /** Nearest names that do exist. */
    this.nearest = list(body.nearest)
    /** Serial ranges and how they differ. */
    this.ranges = list(body.ranges)
    /** Models that a number may stand for. */
    this.models = list(body.models)
    /** What stands in the way of a target. */
    this.obstacles = list(body.obstacles)
    /** Tools that would lift the obstacles. */
    this.missing_tools = list(body.missing_tools)
    /** Where a request is wrong, and what. @type {{where: string, wrong: string}[]} */
    this.fields = Array.isArray(body.fields)
      ? body.fields.map((each) => ({ where: words(each?.where), wrong: words(each?.wrong) }))
      : []
  }
}

/** No answer came. Whether a report that was sent has been kept is then not known: send it again with its key. */
export class NoAnswer extends FirstoffError {
  /** @param {string} message @param {{timedOut?: boolean, status?: number, cause?: unknown}} [how] */
  constructor(message, { timedOut = false, status, cause } = {}) {
    super(message, { cause })
    /** True where the time ran out. */
    this.timedOut = timedOut
    /** Status of whatever stands before the service and answered in its place. */
    this.status = status
  }
}

/** Something answered that is not this service, or not of a version that this client understands. */
export class Nonsense extends FirstoffError {
  /** @param {string} message @param {{status?: number, version?: string, cause?: unknown}} [how] */
  constructor(message, { status, version, cause } = {}) {
    super(message, { cause })
    this.status = status
    /** Version of the service, where it is another than this client was made for. */
    this.version = version
  }
}
