// Jobs, written through on every change, so that a closed browser or a flat battery loses nothing.

import { StorageFull } from './database.js'

const SPARE = 'firstoff-job-in-hand'

export class Jobs {
  #store
  #writing = Promise.resolve()

  constructor(store) {
    this.#store = store
  }

  /** A job, the newer of what the store and the spare copy hold; undefined where there is none. */
  async get(id) {
    await this.#writing.catch(() => {})
    const held = await this.#store.get(id)
    const spare = spared()
    return spare?.id === id && (!held || spare.changed > held.changed) ? spare : held
  }

  /** All jobs, the last changed first. */
  async all() {
    const held = await this.#store.all()
    return held.sort((one, other) => (other.changed ?? '').localeCompare(one.changed ?? ''))
  }

  /**
   * Keep a job. Writes follow one another in order. Where the store is full a spare copy is kept besides.
   *
   * @throws {StorageFull} only the spare copy was kept, or none
   */
  put(job) {
    const kept = { ...job, changed: new Date().toISOString() }
    this.#writing = this.#writing.catch(() => {}).then(async () => {
      try {
        await this.#store.put(job.id, kept)
        spare(null)
      } catch (error) {
        spare(kept)
        throw error
      }
    })
    return this.#writing
  }

  drop(id) {
    if (spared()?.id === id) spare(null)
    return this.#store.drop(id)
  }
}

function spared() {
  try {
    return JSON.parse(localStorage.getItem(SPARE))
  } catch {
    return null
  }
}

function spare(job) {
  try {
    if (job === null) localStorage.removeItem(SPARE)
    else localStorage.setItem(SPARE, JSON.stringify(job))
  } catch {
    if (job !== null) throw new StorageFull('No room for the job.')
  }
}
