// Keeping a whole machine: every answer that a job may need, asked for by its ordinary address and kept as it was sent.

import { StorageFull } from './database.js'

const AT_ONCE = 3

/** The name under which a machine is kept. */
export function machineKey(model, serial) {
  return serial ? `${model} ${serial}` : model
}

/** The addresses of a machine, by what its pocket copy lists. */
export function addressesOf(pocket, model, serial) {
  const base = `/v1/models/${encodeURIComponent(model)}`
  const address = (rest, query = {}) => {
    const asked = new URLSearchParams(query)
    if (serial) asked.append('serial', serial)
    const text = String(asked)
    return text ? `${base}${rest}?${text}` : `${base}${rest}`
  }
  return [
    address(''),
    address('/components', { limit: '200' }),
    address('/codes', { limit: '200' }),
    address('/energies'),
    address('/service-modes'),
    address('/safety-record'),
    address('/live-points'),
    ...pocket.touch.map((part) => address('/isolation', { touch: part })),
    ...pocket.reach.map((target) => address('/removal-plan', { reach: target })),
  ]
}

/**
 * Keep a machine, or bring it up to date. `ask(address)` fetches and keeps one answer and rejects where it cannot.
 * `told` hears `{done, total}` after each. What is there already is kept; a machine counts as whole only at the end.
 *
 * @throws {StorageFull} the phone has no room left
 */
export async function keepMachine({ ask, machines, model, serial, label, told = () => {}, signal }) {
  const key = machineKey(model, serial)
  const before = await machines.get(key)
  const pocket = await ask(pocketAddress(model, serial))
  if (before?.whole && before.revision === pocket.revision) {
    await machines.put(key, { ...before, asOf: new Date().toISOString() })
    return before
  }
  const addresses = addressesOf(pocket, model, serial)
  const entry = { key, model, serial: serial ?? null, label, revision: pocket.revision, total: addresses.length }
  await machines.put(key, { ...before, ...entry, whole: false, asOf: before?.asOf ?? null })
  let done = 0
  let lacking = 0
  const waiting = [...addresses]
  const work = async () => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      signal?.throwIfAborted()
      try {
        await ask(next)
      } catch (error) {
        if (error instanceof StorageFull || !error.status || error.status >= 500) {
          waiting.length = 0
          throw error
        }
        lacking += 1
      }
      done += 1
      told({ done, total: addresses.length })
    }
  }
  await Promise.all(Array.from({ length: AT_ONCE }, work))
  const whole = { ...entry, lacking, whole: true, asOf: new Date().toISOString() }
  await machines.put(key, whole)
  return whole
}

function pocketAddress(model, serial) {
  const base = `/v1/models/${encodeURIComponent(model)}/pocket`
  return serial ? `${base}?serial=${encodeURIComponent(serial)}` : base
}

/** Forget a machine and every answer about it. */
export async function dropMachine({ machines, answers, model, serial }) {
  await machines.drop(machineKey(model, serial))
  const about = (key) => {
    const [, path, query = ''] = key.split('\n')
    const asked = new URLSearchParams(query).get('serial')
    return (path === `/v1/models/${model}` || path.startsWith(`/v1/models/${model}/`)) && (asked ?? null) === (serial ?? null)
  }
  for (const key of await answers.keys()) if (about(key)) await answers.drop(key)
}
