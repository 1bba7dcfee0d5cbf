// Keeping a whole machine: every answer that a job may need, asked for by its ordinary address and kept as it was sent.

import { StorageFull } from './database.js'

const AT_ONCE = 3

/** The name under which a machine is kept. */
export function machineKey(model, serial) {
  return serial ? `${model} ${serial}` : model
}

/** The addresses of a machine, by what its pocket copy lists. */
function addressesOf(pocket, model, serial) {
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

/** How many questions in a row may go unanswered before it is given up for now. */
const PATIENCE = 4

/**
 * Keep a machine, or bring it up to date. `ask(address)` fetches and keeps one answer and rejects where it cannot;
 * `has(address, revision)` tells whether it is kept already, so that what was broken off goes on where it was. A machine
 * counts as whole only once nothing is missing. `told` hears `{done, total}`.
 *
 * @throws {StorageFull} the phone has no room left
 * @throws {Error} the service did not answer several questions in a row
 */
export async function keepMachine({ ask, has, machines, model, serial, label, told = () => {} }) {
  const key = machineKey(model, serial)
  const before = await machines.get(key)
  const pocket = await ask(pocketAddress(model, serial))
  if (before?.whole && before.revision === pocket.revision) {
    const same = { ...before, asOf: new Date().toISOString() }
    await machines.put(key, same)
    return same
  }
  const addresses = addressesOf(pocket, model, serial)
  const entry = { key, model, serial: serial ?? null, label, revision: pocket.revision, total: addresses.length }
  await machines.put(key, { ...entry, whole: false, asOf: before?.asOf ?? null })
  const missing = []
  for (const address of addresses) if (!(await has(address, pocket.revision))) missing.push(address)
  await askAll(missing, ask, (left) => told({ done: addresses.length - left, total: addresses.length }))
  const whole = { ...entry, whole: true, asOf: new Date().toISOString() }
  await machines.put(key, whole)
  return whole
}

/** Ask for every address, a few at once; those that got no answer again at the end, those refused no more. */
async function askAll(addresses, ask, left) {
  const waiting = [...addresses]
  let [open, unanswered] = [addresses.length, 0]
  const work = async () => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      try {
        await ask(next)
        unanswered = 0
      } catch (error) {
        const final = error.status && error.status < 500
        if (error instanceof StorageFull || (!final && ++unanswered > PATIENCE)) {
          waiting.length = 0
          throw error
        }
        if (!final) {
          waiting.push(next)
          continue
        }
      }
      left(--open)
    }
  }
  await Promise.all(Array.from({ length: AT_ONCE }, work))
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
