// What stands around every screen: its name and the way back, what is out of order, and the path of the job.

import { NoAnswer, Nonsense, ProblemError } from '../../javascript/firstoff.js'
import { jobAddress, machineAddress, STATIONS } from '../screens/index.js'
import { button, h, section } from './dom.js'

/** The head of a screen. */
export function head(app) {
  const { screen, words, data } = app
  const title = screen.title(app, data, screen.params)
  const back = screen.back?.(app, data, screen.params)
  return [
    back && h('a', { class: 'back', href: back, 'aria-label': words.back }, h('span', { 'aria-hidden': 'true' }, '‹')),
    h('h1', {}, title),
    h(
      'a',
      { class: `signal ${app.offline ? 'none' : 'there'}`, href: '#/kept' },
      h('span', { class: 'mark', 'aria-hidden': 'true' }),
      h('span', {}, app.offline ? words.noSignal : words.signalThere),
    ),
  ]
}

/** What the user has to know before relying on the screen. */
export function banners(app) {
  const { words } = app
  const told = []
  if (app.asOf) told.push(banner('dated', words.keptAnswer(app.when(app.asOf)), [words.again, () => app.reload()]))
  for (const each of app.trouble) {
    told.push(banner('trouble', words.trouble[each], [words.understood, () => (app.trouble.delete(each), app.frame())]))
  }
  for (const [, { done, total }] of app.keeping) {
    if (total) told.push(h('p', { class: 'banner keeping' }, words.keeping(done, total), h('progress', { value: done, max: total, 'aria-label': words.keeping(done, total) })))
  }
  if (app.newApp) told.push(banner('news', words.newApp, [words.takeNewApp, app.newApp]))
  return told
}

function banner(kind, text, [label, act]) {
  return h('div', { class: `banner ${kind}`, role: kind === 'trouble' ? 'alert' : null }, h('p', {}, text), button(label, act, { kind: 'quiet' }))
}

/** The stations of the job in hand. */
export function jobPath(app) {
  const { screen, words, data } = app
  if (!Object.hasOwn(STATIONS, screen.name) || !data?.job) return null
  return h(
    'ul',
    { 'aria-label': words.stations },
    Object.keys(STATIONS).map((name) =>
      h(
        'li',
        {},
        h('a', { href: jobAddress(data.job.id, name), 'aria-current': name === screen.name ? 'page' : null }, words.station[name]),
      ),
    ),
  )
}

/** A screen in place of one that could not be had: what is wrong and what to do. */
export function troubled(app, error) {
  const { words } = app
  const again = button(words.again, () => app.reload(), { kind: 'main' })
  const safe = h('p', { class: 'always' }, words.always)
  if (error instanceof ProblemError) {
    return section(
      words.cannotAnswer,
      h('p', { lang: 'en' }, error.detail),
      h('p', { lang: 'en' }, error.mend),
      error.kind === 'serial-needed' && serials(app, error),
      safe,
      again,
      h('p', {}, h('a', { class: 'button plain', href: '#/' }, words.find)),
    )
  }
  const text = error instanceof Nonsense ? words.nonsense : error instanceof NoAnswer || error instanceof TypeError ? words.noAnswer : words.ownFault
  return section(
    words.noAnswerTitle,
    h('p', {}, text),
    h('p', { class: 'small', lang: 'en' }, String(error?.message ?? error)),
    safe,
    again,
    h('p', {}, h('a', { class: 'button plain', href: '#/' }, words.find)),
  )
}

/** A serial number to be read off the rating plate, where the answer depends on it. */
export function serials(app, error) {
  const { words, screen } = app
  return h(
    'form',
    {
      class: 'serial',
      onsubmit: (event) => {
        event.preventDefault()
        const serial = event.target.elements.serial.value.trim()
        if (serial) app.go(machineAddress(screen.params.model, serial))
      },
    },
    h('ul', { lang: 'en' }, (error.ranges ?? []).map((range) => h('li', {}, range))),
    h('label', { for: 'serial' }, words.serial),
    h('input', { id: 'serial', name: 'serial', required: true, maxlength: 64, autocomplete: 'off', autocapitalize: 'characters', spellcheck: 'false' }),
    h('button', { class: 'button main' }, words.goOn),
  )
}
