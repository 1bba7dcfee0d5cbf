/**
 * Answers kept by address with their ETag, those asked for last. The text is kept, not the object: every caller gets an
 * object of its own, and what one does to it no other sees.
 *
 * @typedef {import('./typing.js').Reply} Kept
 */
export class Cache {
  /** @type {Map<string, Kept>} A Map hands out its keys in the order they were put in. */
  #kept = new Map()

  /** @param {number} most how many to keep; 0 keeps none */
  constructor(most) {
    this.most = most
  }

  /** @param {string} key */
  get(key) {
    const found = this.#kept.get(key)
    if (found) {
      this.#kept.delete(key)
      this.#kept.set(key, found)
    }
    return found
  }

  /** @param {string} key @param {Kept} answer */
  set(key, answer) {
    this.#kept.delete(key)
    this.#kept.set(key, answer)
    for (const oldest of this.#kept.keys()) {
      if (this.#kept.size <= this.most) return
      this.#kept.delete(oldest)
    }
  }

  /** @param {string} key */
  delete(key) {
    this.#kept.delete(key)
  }
}
