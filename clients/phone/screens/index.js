// Which screen an address names.

import * as find from './find.js'
import * as machine from './machine.js'
import * as parts from './parts.js'
import * as kept from './kept.js'
import * as fault from './fault.js'
import * as carry from './carry.js'
import * as safe from './safe.js'
import * as open from './open.js'
import * as close from './close.js'
import * as handover from './handover.js'

/** The stations of a job, in the order of the work. */
export const STATIONS = { fault, carry, safe, open, close, handover }

/** The screen of a hash such as `#/machine/tgd27-460-s` or `#/job/1/open`, with its parameters. */
export function screenOf(hash) {
  const [path, asked = ''] = hash.replace(/^#\/?/, '').split('?')
  const [room = '', ...rest] = path.split('/').map(decoded)
  const query = new URLSearchParams(asked)
  if (room === 'machine' && rest[0]) {
    const params = { model: rest[0], serial: rest[1] || null, query }
    if (rest[2] === 'parts') return screen('parts', parts, params)
    if (rest[2] === 'live') return screen('live', safe, params)
    return screen('machine', machine, params)
  }
  if (room === 'job' && rest[0] && Object.hasOwn(STATIONS, rest[1] ?? 'fault')) {
    const station = rest[1] ?? 'fault'
    return screen(station, STATIONS[station], { job: rest[0], station, query })
  }
  if (room === 'kept') return screen('kept', kept, {})
  return screen('find', find, {})
}

function screen(name, module, params) {
  return { name, params, load: module.load, view: module.view, title: module.title, back: module.back, awake: module.awake }
}

function decoded(text) {
  try {
    return decodeURIComponent(text)
  } catch {
    return text
  }
}

/** The address of a machine's screen. */
export function machineAddress(model, serial, room = '') {
  const parts = ['#', 'machine', encodeURIComponent(model), encodeURIComponent(serial ?? ''), room]
  return parts.join('/').replace(/\/+$/, '')
}

/** The address of a station of a job. */
export function jobAddress(id, station) {
  return `#/job/${encodeURIComponent(id)}/${station}`
}
