// Make safe: what is live now, what to open, what to release, where to prove dead. It never says that a machine is safe.

import { cautions, notice } from '../parts/caution.js'
import { button, folded, h, section, tick } from '../parts/dom.js'
import { supplyRows, tally } from '../parts/supply.js'
import { timer } from '../parts/timer.js'
import { about, jobOf } from './a-job.js'
import { jobAddress, machineAddress } from './index.js'

export const awake = true
export const title = (app) => (app.screen.name === 'live' ? app.words.whatIsLive : app.words.station.safe)
export const back = (app, data, params) =>
  data?.job ? machineAddress(data.job.model, data.job.serial) : params.model ? machineAddress(params.model, params.serial) : '#/'

export async function load(app, params, signal) {
  const job = params.job ? await jobOf(app, params) : null
  const model = job?.model ?? params.model
  const serial = job?.serial ?? params.serial ?? null
  const asked = { serial: serial ?? undefined, signal }
  app.here.opened ??= job?.opened ?? []
  app.here.released ??= job?.released ?? []
  const [pocket, parts, live, energies] = await Promise.all([
    app.client.pocket(model, asked),
    app.client.components(model, { ...asked, limit: 200 }).catch(() => ({ components: [] })),
    app.client.livePoints(model, { opened: app.here.opened, released: app.here.released, ...asked }),
    app.client.energies(model, asked).catch(() => null),
  ])
  const touched = app.here.touch ? await app.client.isolation(model, { touch: [app.here.touch], ...asked }) : null
  app.keepOpened(model, serial, live.model.label)
  const labels = new Map(parts.components.map((part) => [part.id, part.label]))
  return { job, model, serial, pocket, labels, live, energies, touched }
}

export function view(app, data) {
  const { words } = app
  const { job, pocket } = data
  const live = asItStands(app, data.live)
  const makeSafe = job?.leg?.plan.make_safe
  return [
    job && about(app, job),
    notice(words, live),
    job?.leg && h('p', { class: 'lead', lang: 'en' }, job.leg.plan.reach.map((each) => `${words.reach[each.purpose]}: ${each.component.label}`).join('; ')),
    job?.leg && cautions(words, job.leg.plan.cautions),
    section(
      words.liveNow,
      tally(words, live),
      makeSafe && isolate(app, data, makeSafe),
      folded(
        'supply',
        words.supply,
        app.here.supply ?? !makeSafe,
        (open) => (app.here.supply = open),
        h('p', { class: 'hint' }, words.pressToOpen),
        supplyRows(words, pocket, live, new Set(app.here.opened), (device) => press(app, data, device)),
      ),
    ),
    !makeSafe && touch(app, data),
    stored(app, data, makeSafe),
    makeSafe && prove(app, job, makeSafe),
    makeSafe && h('p', {}, h('a', { class: 'button main', href: jobAddress(job.id, 'open') }, words.toTheSteps)),
  ]
}

/** The live points, every one unknown while what is open now is still being asked about. */
function asItStands(app, live) {
  const current = String(live.opened) === String(app.here.opened) && String(live.released) === String(app.here.released)
  return current ? live : { ...live, points: live.points.map((point) => ({ ...point, state: 'unknown' })) }
}

/** Open a device or close it; whatever was discharged may be charged again by what is closed. */
function press(app, data, device) {
  const opens = !app.here.opened.includes(device)
  const opened = opens ? [...app.here.opened, device].sort() : app.here.opened.filter((each) => each !== device)
  return standsNow(app, data, opened, opens ? app.here.released : [])
}

async function standsNow(app, data, opened, released) {
  Object.assign(app.here, { opened, released })
  if (data.job) app.change(data.job, { ...data.job, opened, released })
  else app.redraw()
  await app.reload()
  const count = app.data?.live?.points.filter((point) => point.state === 'live').length
  if (count !== undefined) app.say(app.words.liveCount(count))
}

function isolate(app, data, makeSafe) {
  const { words } = app
  if (!makeSafe.needed) return section(words.isolate, h('p', {}, words.planNeedsNone))
  return section(
    words.isolate,
    makeSafe.upstream_only && h('p', { class: 'caution warning' }, words.upstream),
    makeSafe.unknown.length > 0 && h('p', { class: 'caution danger' }, words.unknownPoints, ' ', h('span', { lang: 'en' }, makeSafe.unknown.join(', '))),
    h('p', {}, words.planIsolates),
    h(
      'ol',
      { class: 'ticks' },
      makeSafe.devices.map((device) =>
        h('li', {}, tick(`open-${device.id}`, [h('strong', { lang: 'en' }, device.label), h('span', { class: 'also', lang: 'en' }, device.instruction)], app.here.opened.includes(device.id), () => press(app, data, device.id))),
      ),
    ),
  )
}

function touch(app, { pocket, labels, touched, model, serial, job }) {
  const { words, here } = app
  return section(
    words.isolate,
    h('label', { for: 'touch' }, words.touchWhat),
    h(
      'select',
      { id: 'touch', lang: 'en', onchange: (event) => ((here.touch = event.target.value || null), app.reload()) },
      h('option', { value: '' }, '–'),
      pocket.touch.map((part) => h('option', { value: part, selected: here.touch === part }, labels.get(part) ?? part)),
    ),
    touched && [
      touched.upstream_only && h('p', { class: 'caution warning' }, words.upstream),
      touched.unknown.length > 0 && h('p', { class: 'caution danger' }, words.unknownPoints, ' ', h('span', { lang: 'en' }, touched.unknown.join(', '))),
      byEnergy(touched.sets).map(([energy, sets]) => isolating(words, energy, sets)),
      h('h3', {}, words.proveDead),
      h('ol', { lang: 'en' }, touched.prove_dead.map((line) => h('li', {}, line.text))),
      !job && h('p', {}, h('a', { class: 'button plain', href: `${machineAddress(model, serial, 'parts')}?part=${encodeURIComponent(here.touch)}` }, words.toTheParts)),
    ],
  )
}

/** Isolation sets by energy: each energy has to go, and of the sets of one energy any one will do. */
function byEnergy(sets) {
  const found = new Map()
  for (const set of sets) found.set(set.energy, [...(found.get(set.energy) ?? []), set])
  return [...found]
}

function isolating(words, energy, sets) {
  const devices = (set) => set.devices.length > 0 && [h('p', {}, words.openThese), h('ol', { lang: 'en' }, set.devices.map((device) => h('li', {}, h('strong', {}, device.label), h('p', {}, device.instruction))))]
  const release = (set) => set.release.length > 0 && h('ul', { lang: 'en' }, set.release.map((each) => h('li', {}, each.text)))
  return h('div', { class: 'card' }, h('h3', { lang: 'en' }, energy), sets.length > 1 && h('p', {}, words.anyOf(sets.length)), sets.map((set) => h('div', { class: 'set' }, devices(set), release(set))))
}

/** Stored energy: how long a bleed takes at worst, what releases it, and how it is seen to be gone. */
function stored(app, data, makeSafe) {
  const { words, here } = app
  const { job, live, energies } = data
  const waits = job?.waits ?? (here.waits ??= {})
  const begin = (id) => {
    const begun = new Date().toISOString()
    if (job) return app.change(job, { ...job, waits: { ...job.waits, [id]: begun } })
    waits[id] = begun
    return app.redraw()
  }
  const others = (makeSafe?.release ?? []).filter((each) => !live.stored.some((charge) => charge.link === each.id))
  const told = new Set([...live.stored.map((charge) => charge.link), ...others.map((each) => each.id)])
  const more = (energies?.energies ?? []).filter((each) => !told.has(each.id) && (each.release || each.hazard) && !each.isolated_by.length)
  if (!live.stored.length && !here.released.length && !others.length && !more.length) return null
  return section(
    words.storedEnergy,
    h('p', { class: 'caution caution-plain' }, words.waitingIsNoPermission),
    here.released.map((id) => tick(`released-${id}`, [words.released, h('span', { class: 'also', lang: 'en' }, id)], true, () => standsNow(app, data, here.opened, here.released.filter((each) => each !== id)))),
    live.stored.map((charge) =>
      h(
        'div',
        { class: 'card' },
        h('h3', { lang: 'en' }, charge.label),
        h('p', {}, charge.volts === null ? words.voltsUnknown : words.upTo(Math.round(charge.volts)), charge.wait_s === null ? ` · ${words.noTime}` : ''),
        charge.wait_s > 0 && timer(words, { id: charge.link, seconds: charge.wait_s, begun: waits[charge.link] ?? null, begin: () => begin(charge.link) }),
        h('p', { lang: 'en' }, charge.release),
        tick(`released-${charge.link}`, words.released, false, () => standsNow(app, data, here.opened, [...here.released, charge.link].sort())),
      ),
    ),
    others.map((each) =>
      h(
        'div',
        { class: 'card' },
        h('h3', { lang: 'en' }, each.component.label, h('span', { class: 'also' }, each.energy)),
        each.minutes > 0 && timer(words, { id: each.id, seconds: each.minutes * 60, begun: waits[each.id] ?? null, begin: () => begin(each.id) }),
        h('p', { lang: 'en' }, each.text),
        each.competence && h('p', { class: 'caution caution-plain', lang: 'en' }, each.competence),
        each.verify && h('p', { lang: 'en' }, each.verify),
      ),
    ),
    more.length > 0 &&
      folded(
        'more-energies',
        words.moreEnergies(more.length),
        here.more,
        (open) => (here.more = open),
        more.map((each) =>
          h(
            'div',
            { class: 'card' },
            h('h3', { lang: 'en' }, each.label, each.size && h('span', { class: 'also' }, ` ${each.size}`)),
            each.hazard && h('p', { class: 'caution caution-plain', lang: 'en' }, each.hazard),
            each.minutes > 0 && timer(words, { id: each.id, seconds: each.minutes * 60, begun: waits[each.id] ?? null, begin: () => begin(each.id) }),
            h('p', { lang: 'en' }, each.release),
            each.competence && h('p', { class: 'caution caution-plain', lang: 'en' }, each.competence),
            each.verify && h('p', { lang: 'en' }, each.verify),
          ),
        ),
      ),
  )
}

function prove(app, job, makeSafe) {
  const { words } = app
  if (!makeSafe.prove_dead.length) return null
  const left = makeSafe.prove_dead.filter((line, index) => !job.proved[index]).length
  return section(
    words.proveDead,
    h('p', {}, words.proveHow),
    provingList(app, job, makeSafe.prove_dead.map((line, index) => ({ ...line, index }))),
    h('p', { class: `verdict ${left ? 'open' : 'closed'}` }, left ? words.leftToProve(left) : words.allProved),
    Object.keys(job.proved).length > 0 && button(words.proveAgain, () => app.change(job, { ...job, proved: {} }), { kind: 'quiet', id: 'prove-again' }),
  )
}

/** Lines to prove dead, each ticked with the time. */
export function provingList(app, job, lines) {
  return h(
    'ol',
    { class: 'ticks' },
    lines.map((line) => {
      const at = job.proved[line.index]
      const set = (on) => {
        const proved = { ...job.proved, [line.index]: new Date().toISOString() }
        if (!on) delete proved[line.index]
        app.change(job, { ...job, proved })
      }
      return h('li', {}, tick(`prove-${line.index}`, [h('span', { lang: 'en' }, line.text), at && h('span', { class: 'also' }, app.when(at))], Boolean(at), set))
    }),
  )
}

