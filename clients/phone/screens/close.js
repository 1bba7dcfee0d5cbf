// Back out: refit in reverse, where no check is passed over without a word.

import { checkKey, checksWithSupply, closing, missedChecks, openChecks, stepDone, stepInHand, stepUndone, turnedBack, withCheck } from '../core/job.js'
import { cautions, notice } from '../parts/caution.js'
import { button, folded, h, section, tick } from '../parts/dom.js'
import { hardware } from '../parts/hardware.js'
import { timer } from '../parts/timer.js'
import { about, backToMachine, jobOf } from './a-job.js'
import { jobAddress } from './index.js'

export const awake = true
export const title = (app) => app.words.station.close
export const back = backToMachine

export async function load(app, params) {
  const job = await jobOf(app, params)
  if (job.leg) app.asOf = app.offline && job.leg.asOf ? job.leg.asOf : null
  return { job }
}

export function view(app, { job }) {
  const { words } = app
  const { leg } = job
  if (!leg) return [about(app, job), notice(words), h('p', { class: 'hint' }, words.nothingOff), h('a', { class: 'button main', href: jobAddress(job.id, 'handover') }, words.onToHandover)]
  const steps = closing(leg)
  if (leg.back === null) {
    return [
      about(app, job),
      notice(words, leg.plan),
      section(
        words.wayBack,
        h('p', {}, leg.at < leg.plan.steps.length ? words.notThereYet(leg.plan.steps.length - leg.at) : words.allSteps),
        h('ol', { class: 'steps', lang: 'en' }, steps.map((each) => h('li', {}, each.label))),
        button(words.turnBack, () => app.change(job, turnedBack(job)), { kind: 'main', id: 'turn' }),
      ),
    ]
  }
  const hand = stepInHand(leg)
  return [
    about(app, job),
    notice(words, leg.plan),
    hand ? step(app, job, hand) : allBack(app, job),
    folded('all-refit', words.allBackOf(steps.length), app.here.list, (open) => (app.here.list = open), h('ol', { class: 'steps', lang: 'en' }, steps.map((each, index) => h('li', { class: index < leg.back ? 'done' : index === leg.back ? 'now' : null }, each.label)))),
  ]
}

function step(app, job, { step, n, of }) {
  const { words } = app
  const { leg } = job
  const open = openChecks(leg, step)
  return h(
    'section',
    { class: `step ${step.action}` },
    h('p', { class: 'count' }, words.backStepOf(n + 1, of), h('progress', { value: n, max: of, 'aria-label': words.backStepOf(n + 1, of) })),
    cautions(words, step.cautions),
    step.hides_checks.length > 0 && hides(app, job, step),
    h('h2', { id: 'step', class: 'act', lang: 'en' }, step.label),
    h('p', { class: 'instruction', lang: 'en' }, step.instruction),
    step.competence && h('p', { class: 'caution caution-plain', lang: 'en' }, step.competence),
    hardware(words, step),
    renewals(words, step),
    step.wait_minutes > 0 && timer(words, { id: `back-${n}`, seconds: step.wait_minutes * 60, begun: job.waits[`back ${n} ${leg.plan.revision}`] ?? null, begin: () => app.change(job, { ...job, waits: { ...job.waits, [`back ${n} ${leg.plan.revision}`]: new Date().toISOString() } }) }),
    checks(app, job, step),
    open.length > 0 && h('p', { class: 'caution caution-plain', id: 'checks-open' }, words.checksOpen(open.length)),
    h('div', { class: 'moves' }, button(words.stepDone, () => move(app, stepDone(job, new Date().toISOString()), job), { kind: 'main', id: 'done', disabled: open.length > 0, 'aria-describedby': open.length ? 'checks-open' : null }), button(n > 0 ? words.stepBack : words.inAgain, () => move(app, stepUndone(job), job), { kind: 'quiet', id: 'undo' })),
  )
}

async function move(app, next, job) {
  await app.change(job, next)
  document.getElementById('screen').scrollTo(0, 0)
  const hand = stepInHand(next.leg)
  app.say(hand ? `${app.words.backStepOf(hand.n + 1, hand.of)}: ${hand.step.label}` : app.words.allIsBack)
}

function renewals(words, step) {
  const all = [...step.renew, ...step.consumables]
  return all.length > 0 && h('div', { class: 'renew' }, h('strong', {}, words.mustBeNew), h('ul', { lang: 'en' }, all.map((each) => h('li', {}, `${each.count} × ${each.label}`))))
}

/** The checks of the part that goes back now: made, or not made and why. */
function checks(app, job, step) {
  const { words, here } = app
  const rows = step.checks.map((check, index) => ({ check, key: checkKey(step, index), index })).filter(({ check }) => !check.after_supply)
  if (!rows.length) return null
  return h(
    'div',
    { class: 'checks' },
    h('h3', {}, words.checkNow),
    rows.map(({ check, key, index }) => {
      const said = job.leg.checks[key]
      const missing = typeof said === 'string' || here.missing === key
      return h(
        'div',
        { class: `check ${typeof said === 'string' ? 'missed' : ''}` },
        tick(`check-${step.n}-${index}`, [h('span', { lang: 'en' }, check.text), check.before_cover && h('span', { class: 'also' }, words.hiddenSoon)], said === true, (on) => ((here.missing = null), app.change(job, withCheck(job, key, on ? true : null)))),
        said !== true && !missing && button(words.cannotCheck, () => ((here.missing = key), app.redraw()), { kind: 'quiet', id: `cannot-${index}` }),
        missing && said !== true && reason(app, job, key, index, said),
      )
    }),
  )
}

function reason(app, job, key, index, said) {
  const { words } = app
  return h(
    'form',
    {
      onsubmit: (event) => {
        event.preventDefault()
        const text = event.target.elements.reason.value.trim()
        app.here.missing = null
        if (text) app.change(job, withCheck(job, key, text))
      },
    },
    h('label', { for: `reason-${index}` }, words.whyNot),
    h('input', { id: `reason-${index}`, name: 'reason', required: true, maxlength: 300, value: said ?? '' }),
    h('button', { class: 'button plain' }, words.keepReason),
  )
}

/** What nobody can look at any more after this step, and what was said of it. */
function hides(app, job, step) {
  const { words } = app
  const { leg } = job
  const saidOf = (hidden) => {
    for (const each of leg.plan.refit) {
      const index = each.component?.id === hidden.component.id ? each.checks.findIndex((check) => check.text === hidden.text) : -1
      if (index >= 0) return leg.checks[checkKey(each, index)]
    }
    return undefined
  }
  return h(
    'div',
    { class: 'hides' },
    h('h3', {}, words.hides),
    h(
      'ul',
      {},
      step.hides_checks.map((hidden) => {
        const said = saidOf(hidden)
        const state = said === true ? words.wasChecked : typeof said === 'string' ? `${words.wasNotChecked} ${said}` : words.wasNotSaid
        return h('li', { class: said === true ? 'made' : 'missed' }, h('span', { lang: 'en' }, `${hidden.component.label}: ${hidden.text}`), h('span', { class: 'also' }, state))
      }),
    ),
  )
}

function allBack(app, job) {
  const { words } = app
  const missed = missedChecks(job.leg)
  const later = checksWithSupply(job.leg)
  return section(
    words.allIsBack,
    missed.length > 0 && h('div', { class: 'caution warning' }, h('p', {}, words.missed(missed.length)), h('ul', {}, missed.map((each) => h('li', {}, h('span', { lang: 'en' }, `${each.part}: ${each.text}`), ` (${each.reason})`)))),
    later.length > 0 && h('div', { class: 'checks' }, h('h3', {}, words.checkWithSupply), later.map((each, index) => tick(`later-${index}`, h('span', { lang: 'en' }, `${each.part}: ${each.text}`), job.leg.checks[each.key] === true, (on) => app.change(job, withCheck(job, each.key, on ? true : null))))),
    h('a', { class: 'button main', href: jobAddress(job.id, 'handover') }, words.onToHandover),
    button(words.stepBack, () => app.change(job, stepUndone(job)), { kind: 'quiet', id: 'undo' }),
  )
}
