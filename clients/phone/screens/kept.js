// What is kept on this phone, the language, and jobs that ended.

import { dropMachine } from '../keep/machines.js'
import { button, h, section } from '../parts/dom.js'
import { notice } from '../parts/caution.js'
import { LANGUAGES } from '../words/index.js'
import { complaint } from './find.js'
import { jobAddress, machineAddress } from './index.js'

export const title = (app) => app.words.kept
export const back = () => '#/'

export async function load(app) {
  const [machines, jobs, room] = await Promise.all([app.database.machines.all(), app.jobs.all(), navigator.storage?.estimate?.().catch(() => null)])
  return { machines, jobs, room }
}

export function view(app, { machines, jobs, room }) {
  const { words } = app
  return [
    notice(words),
    section(
      words.language,
      h('div', { class: 'choices' }, Object.entries(LANGUAGES).map(([code, name]) => h('button', { type: 'button', class: 'button plain', lang: code, id: `language-${code}`, 'aria-pressed': String(code === app.language), onclick: () => app.choose({ language: code }).then(() => app.redraw()) }, name))),
    ),
    section(
      words.machines,
      machines.length
        ? h('ul', { class: 'rows' }, machines.map((each) => machine(app, each)))
        : h('p', { class: 'hint' }, words.noMachines),
      machines.length > 0 && button(words.refreshAll, () => app.bringUpToDate(), { disabled: !navigator.onLine }),
      room?.usage !== undefined && h('p', { class: 'also' }, words.room(Math.ceil(room.usage / 1e6))),
    ),
    section(
      words.jobs,
      jobs.length
        ? h('ul', { class: 'rows' }, jobs.map((job) => h('li', {}, h('a', { class: 'row', href: jobAddress(job.id, job.at ?? 'fault') }, h('strong', {}, job.number), h('span', { class: 'also' }, `${complaint(job)} · ${job.ended ? words.ended(app.when(job.ended)) : words.stillOpen}`)), button(words.forgetIt, () => app.jobs.drop(job.id).then(() => app.reload()), { kind: 'quiet', 'aria-label': `${words.forgetIt}: ${job.number}` }))))
        : h('p', { class: 'hint' }, words.noJobs),
    ),
    section(words.about, h('p', {}, words.aboutText), h('p', {}, h('a', { class: 'button plain', href: 'addresses' }, words.addresses))),
  ]
}

function machine(app, each) {
  const { words } = app
  return h(
    'li',
    {},
    h('a', { class: 'row', href: machineAddress(each.model, each.serial) }, h('strong', {}, each.label), h('span', { class: 'also' }, each.whole ? words.keptOn(app.when(each.asOf)) : words.keptInPart)),
    button(words.forgetIt, () => dropMachine({ machines: app.database.machines, answers: app.database.answers, model: each.model, serial: each.serial }).then(() => app.reload()), { kind: 'quiet', 'aria-label': `${words.forgetIt}: ${each.label}` }),
  )
}
