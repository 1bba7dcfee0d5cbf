// The supply as rows from its sources to its loads: a device is pressed to open it, and every row shows its state.
//
// A row is as bad as the worst point it stands for. States differ in line and word, never in colour alone.

import { h } from './dom.js'

const WORST = ['live', 'charged', 'unknown', 'off_not_isolated', 'isolated']

/** The state of a point as it is shown: `charged` is live by a stored charge alone, whatever the supply does. */
function shownState(point) {
  return point.state === 'live' && point.energy === 'stored-charge' ? 'charged' : point.state
}

/** The worst state of some points; unknown where one of them is not told. */
function worstOf(points, states) {
  const told = points.map((id) => (states.has(id) ? shownState(states.get(id)) : 'unknown'))
  return WORST.find((state) => told.includes(state)) ?? null
}

/** How many points are in each state. */
export function tally(words, live) {
  const count = (state) => live.points.filter((point) => shownState(point) === state).length
  return h(
    'ul',
    { class: 'tally' },
    WORST.map((state) => h('li', { class: state }, h('strong', {}, String(count(state))), ' ', words.state[state])),
  )
}

/**
 * The rows. `opened` holds the devices that are open; `press(device)` opens or closes one; null for a picture that only
 * shows.
 */
export function supplyRows(words, pocket, live, opened, press) {
  const states = new Map(live.points.map((point) => [point.id, point]))
  const depth = new Map()
  for (const row of pocket.rows) depth.set(row.id, row.parent === null ? 0 : (depth.get(row.parent) ?? 0) + 1)
  return h(
    'ul',
    { class: 'supply' },
    pocket.rows.map((row) => {
      const state = worstOf(row.points, states)
      const volts = Math.max(0, ...row.points.map((id) => (states.get(id)?.state === 'live' ? (states.get(id).volts ?? 0) : 0)))
      const said = state ? `${words.state[state]}${volts ? `, ${Math.round(volts)} V` : ''}` : ''
      return h(
        'li',
        { class: `supply-row ${state ?? 'none'}`, 'data-depth': Math.min(depth.get(row.id), 6) },
        row.device && press ? device(words, row, said, opened.has(row.device), press) : h('span', { class: 'what' }, h('span', { lang: 'en' }, row.label), h('span', { class: 'state' }, said)),
      )
    }),
  )
}

function device(words, row, said, open, press) {
  return h(
    'button',
    { type: 'button', class: `device ${open ? 'open' : 'closed'}`, id: `device-${row.id}`, 'aria-pressed': String(open), onclick: () => press(row.device) },
    h('span', { class: 'switch', 'aria-hidden': 'true' }),
    h('span', { class: 'what' }, h('span', { lang: 'en' }, row.label), h('span', { class: 'state' }, `${open ? words.isOpen : words.isClosed}${row.isolating ? '' : ` · ${words.noIsolation}`}${said ? ` · ${said}` : ''}`)),
  )
}
