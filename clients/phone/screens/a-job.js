// What every station of a job begins with.

import { allDeeds, withPlan } from '../core/job.js'
import { h } from '../parts/dom.js'
import { complaint } from './find.js'
import { jobAddress, machineAddress } from './index.js'

/** The job of an address; the station is remembered, so that the job opens there again. */
export async function jobOf(app, { job: id, station }) {
  const job = await app.jobs.get(id)
  if (!job) throw new Error(app.words.noSuchJob)
  if (job.at !== station) await app.jobs.put((job.at = station) && job).catch((error) => app.failed(error))
  return job
}

export const backToMachine = (app, data) => (data?.job ? machineAddress(data.job.model, data.job.serial) : '#/')

/** Which machine, which complaint: at the head of every station. */
export function about(app, job) {
  return h('p', { class: 'about' }, h('strong', {}, job.number), h('span', { class: 'also', lang: 'en' }, complaint(job)))
}

/** A plan to `reach`, from where the job stands; the screen moves on to making safe. */
export async function planTo(app, job, reach, from) {
  const { words } = app
  app.say(words.planning)
  const plan = await planFrom(app, job, reach, from)
  if (!plan) return
  const next = withPlan(job, plan, app.asOf ?? new Date().toISOString())
  await app.change(job, next)
  recordAhead(app, next)
  app.go(jobAddress(job.id, plan.make_safe.needed ? 'safe' : 'open'))
}

/** The blank safety record of a plan carried out whole is asked for now, so that it is there when the signal is not. */
export function recordAhead(app, job) {
  const whole = { ...job, leg: { ...job.leg, at: job.leg.plan.steps.length } }
  const quiet = app.clientWith(() => {}, { cacheSize: 0 })
  quiet.safetyRecord(job.model, { done: allDeeds(whole), serial: job.serial ?? undefined }).catch(() => {})
}

/** How a machine stands, as a plan is asked for; nothing where it is closed, so that the kept plan is the one asked. */
export function given(off, states) {
  return { ...(off.length ? { off } : {}), ...(states.length ? { states } : {}) }
}

async function planFrom(app, job, reach, from) {
  try {
    return await app.client.removalPlan(job.model, {
      reach,
      ...given(from.off, from.states),
      serial: job.serial ?? undefined,
    })
  } catch (error) {
    app.here.refused = error
    app.redraw()
    return null
  }
}

/** Why a plan could not be had, and what to do: without signal, back out and begin from the closed machine. */
export function refused(app, job) {
  const { words, here } = app
  if (!here.refused) return null
  const error = here.refused
  return h(
    'div',
    { class: 'banner trouble', role: 'alert' },
    h('p', {}, error.detail ? h('span', { lang: 'en' }, `${error.detail} ${error.mend ?? ''}`) : words.noPlanWithoutSignal),
    !error.detail && job.leg && h('a', { class: 'button plain', href: jobAddress(job.id, 'close') }, words.backOutFirst),
  )
}
