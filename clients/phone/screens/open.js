// Get in: the plan a step at a time, the warning before the step it belongs to.

import { bareUnproved, closing, openProofs, standing, stepDone, stepInHand, stepUndone, turnedBack } from '../core/job.js'
import { cautions, notice } from '../parts/caution.js'
import { button, folded, h, section, tick } from '../parts/dom.js'
import { hardware } from '../parts/hardware.js'
import { timer } from '../parts/timer.js'
import { about, backToMachine, jobOf, planTo, refused } from './a-job.js'
import { jobAddress } from './index.js'
import { provingList } from './safe.js'

export const awake = true
export const title = (app) => app.words.station.open
export const back = backToMachine

export async function load(app, params, signal) {
  const job = await jobOf(app, params)
  if (job.leg) app.asOf = app.offline && job.leg.asOf ? job.leg.asOf : null
  const detail = await app.client.model(job.model, { serial: job.serial ?? undefined, signal }).catch(() => null)
  const changed = Boolean(detail && job.leg && !app.asOf && detail.revision !== job.leg.plan.revision)
  return { job, changed }
}

export function view(app, { job, changed }) {
  const { words } = app
  const { leg } = job
  if (!leg) return [about(app, job), notice(words), h('p', { class: 'hint' }, words.noPlanYet), h('a', { class: 'button main', href: jobAddress(job.id, 'fault') }, words.onToFault)]
  const hand = leg.back === null ? stepInHand(leg) : null
  return [
    about(app, job),
    notice(words, leg.plan),
    refused(app, job),
    changed && newer(app, job),
    folded('tools', words.toolsFor(leg.plan.kit.tools.length), app.here.tools ?? leg.at === 0, (open) => (app.here.tools = open), h('ul', { class: 'run', lang: 'en' }, leg.plan.kit.tools.map((tool) => h('li', {}, tool.label)))),
    leg.back !== null
      ? [h('p', {}, words.onTheWayBack), h('a', { class: 'button main', href: jobAddress(job.id, 'close') }, words.onToClose)]
      : hand
        ? step(app, job, hand)
        : reached(app, job),
    alreadyOff(app, job),
    list(app, job),
  ]
}

function newer(app, job) {
  const { words } = app
  const reach = job.leg.plan.reach.map((each) => `${each.component.id}:${each.purpose}`)
  return h('div', { class: 'banner news' }, h('p', {}, words.contentChanged), button(words.planAnew, () => planTo(app, job, reach, standing(job.leg)), { kind: 'quiet' }))
}

function step(app, job, { step, n, of }) {
  const { words } = app
  const { leg } = job
  const bare = bareUnproved(job)
  const proving = step.action === 'prove_dead'
  const missing = proving ? openProofs(job).filter((line) => line.kind === 'prove_tester').length : 0
  return h(
    'section',
    { class: `step ${step.action}` },
    h('p', { class: 'count' }, words.stepOf(n + 1, of), h('progress', { value: n, max: of, 'aria-label': words.stepOf(n + 1, of) })),
    bare.length > 0 && !proving && h('div', { class: 'caution danger', role: 'note' }, h('p', { class: 'word' }, words.signal.DANGER, h('span', { class: 'hazard' }, words.bareUnproved)), provingList(app, job, bare)),
    cautions(words, step.cautions),
    h('h2', { id: 'step', class: 'act', lang: 'en' }, step.label),
    h('p', { class: 'instruction', lang: 'en' }, step.instruction),
    step.persons > 1 && h('p', { class: 'also' }, words.persons(step.persons)),
    step.competence && h('p', { class: 'caution caution-plain', lang: 'en' }, step.competence),
    hardware(words, step),
    step.exposes.length > 0 && exposes(app, step.exposes),
    step.wait_minutes > 0 && timer(words, { id: `step-${n}`, seconds: step.wait_minutes * 60, begun: job.waits[`step ${n} ${leg.plan.revision}`] ?? null, begin: () => app.change(job, { ...job, waits: { ...job.waits, [`step ${n} ${leg.plan.revision}`]: new Date().toISOString() } }) }),
    proving && [h('p', {}, words.proveHow), provingList(app, job, leg.plan.make_safe.prove_dead.map((line, index) => ({ ...line, index })))],
    step.because && h('p', { class: 'also', lang: 'en' }, step.because),
    missing > 0 && h('p', { class: 'caution caution-plain' }, words.proveTesterFirst),
    h('div', { class: 'moves' }, button(words.stepDone, () => move(app, job, stepDone(job, new Date().toISOString())), { kind: 'main', id: 'done', disabled: missing > 0 }), n > 0 && button(words.stepBack, () => move(app, job, stepUndone(job)), { kind: 'quiet', id: 'undo' })),
  )
}

async function move(app, job, next) {
  await app.change(job, next)
  document.getElementById('screen').scrollTo(0, 0)
  const hand = next.leg.back === null ? stepInHand(next.leg) : null
  app.say(hand ? `${app.words.stepOf(hand.n + 1, hand.of)}: ${hand.step.label}` : app.words.allSteps)
}

const FEW = 6
const WORST = ['live', 'unknown', 'off_not_isolated', 'isolated']

/** The points within reach now, the worst first; the rest of a long list is folded away. */
function exposes(app, points) {
  const { words, here } = app
  const sorted = [...points].sort((one, other) => WORST.indexOf(one.state) - WORST.indexOf(other.state))
  const row = (point) => h('li', { class: point.state }, h('span', { lang: 'en' }, point.label), h('span', { class: 'state' }, words.state[point.state], point.state !== 'isolated' && point.volts ? `, ${Math.round(point.volts)} V` : ''))
  const more = sorted.slice(FEW)
  return h(
    'div',
    { class: 'exposes' },
    h('h3', {}, words.baresPoints),
    h('ul', {}, sorted.slice(0, FEW).map(row)),
    more.length > 0 && folded('more-points', words.morePoints(more.length, words.state[more[0].state]), here.points, (open) => (here.points = open), h('ul', {}, more.map(row))),
  )
}

function reached(app, job) {
  const { words } = app
  return section(
    words.reached,
    h('p', { class: 'lead', lang: 'en' }, job.leg.plan.reach.map((each) => `${each.component.label} (${words.reach[each.purpose]})`).join(', ')),
    h('a', { class: 'button main', href: jobAddress(job.id, 'fault') }, words.enterWhatYouFound),
    button(words.turnBack, () => app.change(job, turnedBack(job)).then(() => app.go(jobAddress(job.id, 'close'))), { id: 'turn' }),
  )
}

/** Parts that were off when the work began: the plan is asked for anew from there. */
function alreadyOff(app, job) {
  const { words } = app
  const { plan, at, back } = job.leg
  if (back !== null || at > 0) return null
  const parts = plan.steps.filter((each) => each.action === 'remove')
  if (!parts.length && !plan.off.length) return null
  const chosen = new Set(app.here.off ?? plan.off.map((each) => each.id))
  const reach = plan.reach.map((each) => `${each.component.id}:${each.purpose}`)
  const rows = [...plan.off.map((each) => ({ id: each.id, label: each.label })), ...parts.map((each) => ({ id: each.way, label: each.component.label }))]
  return folded(
    'already-off',
    words.alreadyOff,
    app.here.offOpen,
    (open) => (app.here.offOpen = open),
    h('p', {}, words.alreadyOffHow),
    h('ul', { class: 'ticks' }, rows.map((row) => h('li', {}, tick(`off-${row.id}`, h('span', { lang: 'en' }, row.label), chosen.has(row.id), (on) => ((on ? chosen.add(row.id) : chosen.delete(row.id)), (app.here.off = [...chosen]), app.redraw()))))),
    app.here.off && button(words.planAnew, () => planTo(app, job, reach, { off: app.here.off, states: plan.states.map((state) => state.id) }), { id: 'plan-anew' }),
  )
}

function list(app, job) {
  const { words } = app
  const { leg } = job
  const steps = leg.plan.steps
  return folded(
    'all-steps',
    words.allOf(steps.length, Math.round(leg.plan.minutes)),
    app.here.list,
    (open) => (app.here.list = open),
    h('p', { class: 'also' }, leg.plan.optimal ? words.provedCheapest : words.notProvedCheapest),
    h('ol', { class: 'steps', lang: 'en' }, steps.map((each, index) => h('li', { class: index < leg.at ? 'done' : index === leg.at ? 'now' : null, 'aria-current': index === leg.at ? 'step' : null }, each.label))),
    leg.back === null && leg.at > 0 && button(words.turnBack, () => app.change(job, turnedBack(job)).then(() => app.go(jobAddress(job.id, 'close'))), { kind: 'quiet', id: 'turn-early' }),
    closing(leg).length === 0 && h('p', {}, words.nothingOff),
  )
}
