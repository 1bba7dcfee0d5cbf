// Find the fault: findings in, the next check out, the ranking moves.

import { plansAhead } from '../core/ahead.js'
import { found, question, standing, unfound } from '../core/job.js'
import { followed, since } from '../core/tree.js'
import { notice } from '../parts/caution.js'
import { button, folded, h, section } from '../parts/dom.js'
import { readingForm } from '../parts/reading.js'
import { symptomBox } from '../parts/symptoms.js'
import { NoAnswer } from '../../javascript/firstoff.js'
import { about, backToMachine, given, jobOf, planTo, refused } from './a-job.js'
import { jobAddress } from './index.js'

export const title = (app) => app.words.station.fault
export const back = backToMachine

export async function load(app, params, signal) {
  const job = await jobOf(app, params)
  const none = Object.values(job.findings).every((list) => list.length === 0)
  if (none) return { job, answer: null }
  try {
    const answer = await app.client.diagnosis(job.model, question(job), { signal })
    job.asked = { findings: job.findings, answer, asOf: app.asOf ?? new Date().toISOString() }
    await app.jobs.put(job).catch((error) => app.failed(error))
    setTimeout(() => lookAhead(app, job, answer), 0)
    return { job, answer }
  } catch (error) {
    if (!(error instanceof NoAnswer) && !(error instanceof TypeError)) throw error
    const later = job.asked ? since(job.asked.findings, job.findings) : null
    const answer = later ? followed(job.asked.answer, later) : null
    app.asOf = job.asked?.asOf ?? app.asOf
    return { job, answer, cut: answer === null, last: job.asked?.answer ?? null }
  }
}

/** Plans that the next steps may need are asked for now, so that they are there when the signal is not. */
async function lookAhead(app, job, answer) {
  if (app.offline || !answer.next) return
  const asking = (app.ahead = { job: job.id, done: false })
  const quiet = app.clientWith(() => {}, { cacheSize: 0 })
  const asked = { serial: job.serial ?? undefined }
  const still = () => app.ahead === asking
  await quiet.carry(job.model, { symptoms: job.findings.symptoms, ...asked }).catch(() => {})
  await plansAhead(answer.next, from(job), (target, { off, states }) =>
    still() ? quiet.removalPlan(job.model, { reach: [target], ...given(off, states), ...asked }).catch(() => null) : null,
  )
  if (!still()) return
  asking.done = true
  const line = document.getElementById('ahead')
  if (line) line.textContent = app.words.ahead
}

export function view(app, { job, answer, cut, last }) {
  const { words } = app
  return [
    about(app, job),
    notice(words, answer),
    refused(app, job),
    findings(app, job),
    cut && h('p', { class: 'banner trouble', role: 'alert' }, words.treeEnds),
    answer?.conflict && conflict(app, answer.conflict),
    answer && next(app, job, answer),
    h('p', { id: 'ahead', class: 'small' }, app.ahead?.job === job.id && app.ahead.done && words.ahead),
    (answer ?? last) && ranking(app, answer ?? last),
  ]
}

function findings(app, job) {
  const { words } = app
  const all = Object.entries(job.findings).flatMap(([kind, list]) => list.map((value) => ({ kind, value })))
  const called = ({ kind, value }) => job.names[`${kind} ${typeof value === 'string' ? value : (value.check ?? value.label)}`] ?? (typeof value === 'string' ? value : value.label)
  const add = (kind, id, name) => learn(app, job, kind === 'code' ? 'codes' : 'symptoms', id, name)
  return section(
    words.findings,
    h(
      'ul',
      { class: 'chips' },
      all.map((each, index) =>
        h(
          'li',
          { class: each.kind === 'absent' ? 'absent' : null },
          h('span', {}, `${words.findingKind[each.kind]}: `, h('span', { lang: 'en' }, called(each))),
          h('button', { type: 'button', class: 'drop', id: `drop-${index}`, 'aria-label': words.dropFinding(called(each)), onclick: () => (app.change(job, unfound(job, each.kind, each.value)), app.reload()) }, '×'),
        ),
      ),
    ),
    folded('more-findings', words.addFinding, app.here.adding ?? all.length === 0, (open) => (app.here.adding = open), symptomBox(app, job.model, job.serial, add, 'more'), absentBox(app, job)),
  )
}

function absentBox(app, job) {
  const { words } = app
  return folded('absent-findings', words.notThere, app.here.absent, (open) => (app.here.absent = open), symptomBox(app, job.model, job.serial, (kind, id, name) => learn(app, job, kind === 'code' ? 'codes' : 'absent', id, name), 'absent'))
}

async function learn(app, job, kind, value, name) {
  app.change(job, found(job, kind, value, name))
  app.here = {}
  await app.reload()
  app.say(app.words.rankingMoved)
}

function conflict(app, note) {
  const { words } = app
  return h('div', { class: 'caution caution-plain', role: 'note' }, h('p', {}, words.conflict), h('ul', { lang: 'en' }, note.findings.map((each) => h('li', {}, each.label))))
}

function next(app, job, answer) {
  const { words } = app
  const step = answer.next
  if (!step || step.id === null) return section(words.next, h('p', { lang: 'en' }, step?.label || answer.said), h('p', {}, words.nothingMore))
  return section(
    step.kind === 'remedy' ? words.nextRemedy : words.nextCheck,
    h(
      'div',
      { class: 'card' },
      step.live && h('p', { class: 'caution danger' }, h('span', { class: 'word' }, words.signal.DANGER), words.liveCheck),
      h('h3', { lang: 'en' }, step.label),
      step.instruction && h('p', { lang: 'en' }, step.instruction),
      h('p', { class: 'also' }, words.minutes(step.minutes), step.opens.length ? ` · ${words.toOpen(step.opens.length)}` : ` · ${words.nothingToOpen}`),
      step.guard && guard(app, step.guard),
      step.reach && way(app, job, step),
      step.kind === 'remedy' ? helped(app, job, step) : outcomes(app, job, step),
    ),
    step.kind !== 'remedy' && folded('reading', words.enterReading, app.here.reading, (open) => (app.here.reading = open), readingForm(app, job, step, (reading) => learn(app, job, 'readings', reading, reading.label))),
  )
}

function way(app, job, step) {
  const { words } = app
  const here = job.leg && job.leg.plan.reach.some((each) => `${each.component.id}:${each.purpose}` === step.reach) && job.leg.back === null
  if (here) return h('a', { class: 'button main', href: jobAddress(job.id, 'open') }, words.goOnOpening)
  return button(step.opens.length ? words.makeSafeAndOpen : words.makeSafeFor, () => planTo(app, job, [step.reach], from(job)), { kind: 'main', id: 'plan' })
}

/** From where a plan goes on: as the machine stands, or closed. */
function from(job) {
  return job.leg ? standing(job.leg) : { off: [], states: [] }
}

function outcomes(app, job, step) {
  const { words } = app
  return h(
    'fieldset',
    {},
    h('legend', {}, words.whatWasIt),
    step.then.map((then, index) =>
      h(
        'button',
        { type: 'button', class: 'button outcome', id: `outcome-${index}`, onclick: () => learn(app, job, 'outcomes', { check: step.id, label: then.outcome }, `${step.label}: ${then.outcome}`) },
        h('span', { lang: 'en' }, then.outcome),
        h('span', { class: 'also' }, words.percent(then.probability)),
      ),
    ),
  )
}

function helped(app, job, step) {
  const { words } = app
  return h(
    'fieldset',
    {},
    h('legend', {}, words.didItHelp),
    button(words.helped, async () => {
      await app.change(job, { ...job, repairedBy: step.label })
      app.go(jobAddress(job.id, job.leg ? 'close' : 'handover'))
    }, { id: 'helped' }),
    button(words.didNotHelp, () => learn(app, job, 'tried', step.id, step.label), { id: 'not-helped' }),
  )
}

function guard(app, note) {
  const { words } = app
  return h(
    'div',
    { class: 'guard' },
    h('p', {}, h('strong', {}, words.notOnSuspicion), ' ', h('span', { lang: 'en' }, `${note.part.label}: ${note.why}.`)),
    note.confirm.length > 0 && h('p', {}, words.confirmBy, ' ', h('span', { lang: 'en' }, note.confirm.map((each) => each.label).join('; '))),
    note.look_alikes.length > 0 && h('p', {}, words.lookAlikes, ' ', h('span', { lang: 'en' }, note.look_alikes.map((each) => each.label).join('; '))),
  )
}

function ranking(app, answer) {
  const { words } = app
  const shown = answer.faults.slice(0, app.here.all ? undefined : 5)
  return section(
    words.probably,
    answer.contradicted && h('p', { class: 'caution caution-plain' }, words.noneExplains),
    h(
      'ol',
      { class: 'shares' },
      shown.map((fault) => {
        const before = fault.moved.at(-1)?.before
        const way = before === undefined || Math.abs(before - fault.share) < 0.005 ? null : before < fault.share ? 'up' : 'down'
        return h(
          'li',
          {},
          h('span', { class: 'name', lang: 'en' }, fault.label),
          h('span', { class: 'share' }, way && h('span', { class: `move ${way}`, 'aria-label': words[way] }, way === 'up' ? '▲' : '▼'), words.percent(fault.share)),
          h('meter', { min: 0, max: 1, value: fault.share, 'aria-label': `${fault.label} ${words.percent(fault.share)}` }),
          fault.remedies.length > 0 && h('span', { class: 'also', lang: 'en' }, fault.remedies.join('; ')),
        )
      }),
    ),
    answer.faults.length > shown.length && button(words.showAll(answer.faults.length), () => ((app.here.all = true), app.redraw()), { kind: 'quiet', id: 'all-faults' }),
  )
}
