/** Is an answer one of this service: of its media type, whole, and naming its revision. */
import { NoAnswer, Nonsense, ProblemError } from './errors.js'

const PROBLEM = 'application/problem+json'
const IN_BETWEEN = new Set([429, 502, 503, 504])

/**
 * @param {import('./typing.js').Reply} reply
 * @param {import('./typing.js').Question} question
 * @returns {() => unknown} gives the body; every call gives an object of its own
 * @throws {import('./errors.js').FirstoffError}
 */
export function judged({ status, media, text }, { accept, grounded }) {
  if (status < 200 || status > 299) throw refused(status, media, text)
  const wanted = accept.split(/[,;]/)[0].trim()
  if (accept !== '*/*' && !accept.includes(',') && media !== wanted) {
    throw new Nonsense(`The answer is ${media || 'of no type'}, not ${wanted}.`, { status })
  }
  if (!/[/+]json$/.test(media)) return () => text
  let first = parsed(text, status)
  if (grounded && !(typeof first === 'object' && first !== null && typeof first.revision === 'string')) {
    throw new Nonsense('The answer does not name the revision it was computed from.', { status })
  }
  return () => {
    const body = first === undefined ? JSON.parse(text) : first
    first = undefined
    return body
  }
}

/** @param {number} status @param {string} media @param {string} text */
function refused(status, media, text) {
  if (media === PROBLEM) {
    const body = parsed(text, status)
    if (typeof body?.type === 'string' && typeof body.title === 'string') return new ProblemError(status, body)
  }
  if (IN_BETWEEN.has(status)) {
    return new NoAnswer(`No answer: what stands before the service says ${status}.`, { status })
  }
  return new Nonsense(`The answer has status ${status} and is no problem document.`, { status })
}

/** @param {string} text @param {number} status @returns {any} */
function parsed(text, status) {
  try {
    return JSON.parse(text)
  } catch (cause) {
    throw new Nonsense('The answer is no whole JSON.', { status, cause })
  }
}
