// Carry: what to take along before the visit.

import { notice } from '../parts/caution.js'
import { h, section, tick } from '../parts/dom.js'
import { about, backToMachine, jobOf } from './a-job.js'
import { jobAddress } from './index.js'

export const title = (app) => app.words.station.carry
export const back = backToMachine

export async function load(app, params, signal) {
  const job = await jobOf(app, params)
  if (!job.findings.symptoms.length) return { job, list: null }
  const asked = { symptoms: job.findings.symptoms, serial: job.serial ?? undefined, signal }
  const [list, parts] = await Promise.all([
    app.client.carry(job.model, asked),
    app.client.components(job.model, { limit: 200, serial: job.serial ?? undefined, signal }).catch(() => ({ components: [] })),
  ])
  const numbers = new Map(parts.components.map((each) => [each.id, each.part_number]))
  return { job, list, numbers }
}

export function view(app, { job, list, numbers }) {
  const { words } = app
  const kit = job.leg?.plan.kit
  const carried = new Set(job.carried)
  const row = (kind, id, text) =>
    h(
      'li',
      {},
      tick(`carry-${kind}-${id}`, text, carried.has(`${kind} ${id}`), (on) => {
        const key = `${kind} ${id}`
        app.change(job, { ...job, carried: on ? [...job.carried, key] : job.carried.filter((each) => each !== key) })
      }),
    )
  const tools = new Map([...(list?.tools ?? []), ...(kit?.tools ?? [])].map((tool) => [tool.id, tool]))
  const used = new Set([...(list?.consumables ?? []), ...(kit?.consumables ?? []).map((each) => `${each.count} × ${each.label}`)])
  const parts = new Map([...(list?.parts ?? []), ...(kit?.parts ?? [])].map((part) => [part.id, part]))
  const said = (part) => [h('span', { lang: 'en' }, part.label), h('span', { class: 'also' }, part.part_number ?? numbers?.get(part.id) ?? '')]
  return [
    about(app, job),
    notice(words, list),
    !list && !kit && h('p', { class: 'hint' }, words.carryNeedsSymptom),
    list && h('p', { class: 'lead' }, words.chance(words.percent(list.chance))),
    parts.size > 0 && section(words.partsToCarry, h('ul', { class: 'ticks' }, [...parts.values()].map((part) => row('part', part.id, said(part))))),
    used.size > 0 && section(words.consumables, h('ul', { class: 'ticks' }, [...used].map((text) => row('used', text, h('span', { lang: 'en' }, text))))),
    tools.size > 0 && section(words.tools, h('ul', { class: 'ticks' }, [...tools.values()].map((tool) => row('tool', tool.id, h('span', { lang: 'en' }, tool.label))))),
    h('p', {}, h('a', { class: 'button main', href: jobAddress(job.id, job.leg ? 'safe' : 'fault') }, job.leg ? words.onToSafe : words.onToFault)),
  ]
}
