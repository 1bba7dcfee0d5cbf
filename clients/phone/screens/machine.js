// A machine: what it is, notices, and where to begin.

import { found, newJob } from '../core/job.js'
import { dropMachine, machineKey } from '../keep/machines.js'
import { ProblemError } from '../../javascript/firstoff.js'
import { cautions, notice } from '../parts/caution.js'
import { button, h, section } from '../parts/dom.js'
import { serials } from '../parts/frame.js'
import { symptomBox } from '../parts/symptoms.js'
import { jobAddress, machineAddress } from './index.js'

export const title = (app, data, { model }) => data?.detail?.number ?? model.toUpperCase()
export const back = () => '#/'

export async function load(app, { model, serial }, signal) {
  const detail = await app.client.model(model, { serial: serial ?? undefined, signal })
  let ranges = null
  try {
    await app.client.pocket(model, { serial: serial ?? undefined, signal })
  } catch (error) {
    if (!(error instanceof ProblemError) || error.kind !== 'serial-needed') throw error
    ranges = error
  }
  const kept = ranges ? null : await app.keepOpened(model, serial, detail.label)
  const jobs = (await app.jobs.all()).filter((job) => !job.ended && job.model === model && (job.serial ?? null) === serial)
  return { detail, ranges, kept, jobs }
}

export function view(app, { detail, ranges, kept, jobs }, { model, serial, query }) {
  const { words } = app
  const given = ['symptom', 'code'].find((kind) => query.get(kind))
  return [
    h('p', { class: 'lead', lang: 'en' }, detail.label, h('span', { class: 'also' }, `${detail.maker} · ${detail.kind}`)),
    serial && h('p', { class: 'also' }, `${words.serial}: ${serial}`),
    notice(words, detail),
    cautions(words, detail.cautions),
    ranges && section(words.serialFirst, h('p', {}, words.serialWhy), serials(app, ranges)),
    !ranges && jobs.length > 0 && section(words.openJobs, jobs.map((job) => h('a', { class: 'button main', href: jobAddress(job.id, job.at ?? 'fault') }, words.goOnWith(app.when(job.changed ?? job.begun))))),
    !ranges &&
      section(
        words.startJob,
        given
          ? button(words.startWith(query.get('name') ?? query.get(given)), () => start(app, detail, serial, given, query.get(given), query.get('name')), { kind: 'main', id: 'start' })
          : [
              h('p', {}, words.startHow),
              symptomBox(app, model, serial, (kind, id, name) => start(app, detail, serial, kind, id, name)),
            ],
      ),
    !ranges &&
      section(
        words.orGoTo,
        h('a', { class: 'button plain', href: machineAddress(model, serial, 'live') }, words.whatIsLive),
        h('a', { class: 'button plain', href: machineAddress(model, serial, 'parts') }, words.partsOf(detail.counts.components)),
      ),
    !ranges && keeping(app, detail, kept, model, serial),
  ]
}

async function start(app, detail, serial, kind, id, name) {
  const fresh = newJob(crypto.randomUUID?.() ?? String(Date.now()), new Date().toISOString(), {
    model: detail.id,
    serial,
    label: detail.label,
    number: detail.number,
  })
  const job = id ? found(fresh, kind === 'code' ? 'codes' : 'symptoms', id, name ?? id) : fresh
  await app.jobs.put(job).catch((error) => app.failed(error))
  app.go(jobAddress(job.id, 'fault'))
}

function keeping(app, detail, kept, model, serial) {
  const { words } = app
  const progress = app.keeping.get(machineKey(model, serial))
  const said = progress ? words.beingKept : kept?.whole ? words.keptOn(app.when(kept.asOf)) : words.notKept
  return section(
    words.withoutSignal,
    h('p', {}, said),
    !progress && !kept?.whole && button(words.keepIt, () => (app.keep(model, serial, detail.label), app.redraw()), {}),
    !progress &&
      kept &&
      button(
        words.forgetIt,
        async () => {
          await dropMachine({ machines: app.database.machines, answers: app.database.answers, model, serial })
          app.trouble.delete('full')
          app.go('#/')
        },
        { kind: 'quiet' },
      ),
  )
}
