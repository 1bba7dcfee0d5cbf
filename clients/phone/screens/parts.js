// The parts of a machine, and from a part straight to its plan.

import { newJob, withPlan } from '../core/job.js'
import { button, h, section } from '../parts/dom.js'
import { notice } from '../parts/caution.js'
import { recordAhead } from './a-job.js'
import { jobAddress, machineAddress } from './index.js'

export const title = (app) => app.words.parts
export const back = (app, data, { model, serial }) => machineAddress(model, serial)

export async function load(app, { model, serial, query }, signal) {
  const asked = { serial: serial ?? undefined, signal }
  const [detail, list, pocket] = await Promise.all([
    app.client.model(model, asked),
    app.client.components(model, { ...asked, limit: 200 }),
    app.client.pocket(model, asked),
  ])
  app.here.chosen ??= query.get('part')
  app.keepOpened(model, serial, detail.label)
  return { detail, list, pocket }
}

export function view(app, { detail, list, pocket }, { model, serial }) {
  const { words, here } = app
  const typed = (here.typed ?? '').toLowerCase()
  const chosen = here.chosen
  const shown = list.components.filter((part) => part.id === chosen || part.label.toLowerCase().includes(typed))
  return [
    notice(words, list),
    h('label', { for: 'narrow' }, words.narrow),
    h('input', { id: 'narrow', type: 'search', value: here.typed ?? '', autocomplete: 'off', oninput: (event) => ((here.typed = event.target.value), app.redraw()) }),
    section(
      words.partsOf(shown.length),
      h(
        'ul',
        { class: 'rows' },
        shown.map((part) =>
          h(
            'li',
            {},
            h('button', { type: 'button', class: 'row', id: `part-${part.id}`, 'aria-expanded': String(chosen === part.id), onclick: () => ((here.chosen = chosen === part.id ? null : part.id), app.redraw()) }, h('strong', { lang: 'en' }, part.label), part.part_number && h('span', { class: 'also' }, part.part_number)),
            chosen === part.id && purposes(app, detail, pocket, part, serial),
          ),
        ),
      ),
    ),
  ]
  function purposes(app, detail, pocket, part, serial) {
    const ways = ['replace', 'inspect', 'test', 'live-test'].filter((purpose) => pocket.reach.includes(`${part.id}:${purpose}`))
    return h(
      'div',
      { class: 'inner' },
      ways.length
        ? ways.map((purpose) => button(words.reach[purpose], () => begin(app, detail, model, serial, `${part.id}:${purpose}`), { kind: purpose === 'replace' ? 'main' : 'plain' }))
        : h('p', { class: 'hint' }, words.noWayIn),
    )
  }
}

async function begin(app, detail, model, serial, target) {
  const plan = await app.client.removalPlan(model, { reach: [target], serial: serial ?? undefined }).catch((error) => {
    app.problem = error
    app.redraw()
  })
  if (!plan) return
  const now = new Date().toISOString()
  const job = newJob(crypto.randomUUID?.() ?? now, now, { model, serial, label: detail.label, number: detail.number })
  const planned = withPlan(job, plan, app.asOf ?? now)
  await app.jobs.put(planned).catch((error) => app.failed(error))
  recordAhead(app, planned)
  app.go(jobAddress(job.id, 'safe'))
}
