// Hand over: what proves the machine safe, what was done, and a sheet of it.

import { allDeeds, checksWithSupply, missedChecks, stepInHand } from '../core/job.js'
import { judged } from '../offline/record.js'
import { notice } from '../parts/caution.js'
import { button, h, section, tick } from '../parts/dom.js'
import { about, backToMachine, jobOf } from './a-job.js'
import { complaint } from './find.js'

export const title = (app) => app.words.station.handover
export const back = backToMachine
const UNITS = { ohm: ['ohm', 'mohm'], Mohm: ['Mohm', 'kohm', 'Gohm'], mA: ['mA', 'uA'] }

export async function load(app, params, signal) {
  const job = await jobOf(app, params)
  return { job, record: await recordOf(app, job, signal) }
}

async function recordOf(app, job, signal) {
  const done = allDeeds(job)
  const asked = { done, serial: job.serial ?? undefined, signal }
  try {
    const blank = await app.client.safetyRecord(job.model, asked)
    if (!job.record.readings.length && !job.record.confirmed.length) return blank
    return await app.client.judgeRecord(job.model, { ...job.record, done, ...(job.serial ? { serial: job.serial } : {}) }, { signal })
  } catch (error) {
    const blank = job.leg?.plan.record
    if (!blank || error.status) throw error
    app.asOf = job.leg.asOf
    return judged(blank, job.record)
  }
}

export function view(app, { job, record }) {
  const { words } = app
  return [
    about(app, job),
    notice(words, record),
    stillOpen(app, job),
    section(
      words.record,
      h('p', { class: 'also', lang: 'en' }, record.standard?.label, record.standard ? '. ' : '', record.standard_note),
      record.lines.map((line) => lineOf(app, job, line)),
      h('p', { class: `verdict ${record.verdict === 'pass' ? 'closed' : 'open'}`, id: 'verdict' }, words.verdict[record.verdict]),
      record.advice.length > 0 && h('ul', { lang: 'en' }, record.advice.map((each) => h('li', {}, each))),
    ),
    finish(app, job),
    sheet(app, job, record),
    ending(app, job, record),
  ]
}

/** What of the work is not back yet: said first. */
function stillOpen(app, job) {
  const { words } = app
  if (!job.leg || (job.leg.back !== null && !stepInHand(job.leg))) return null
  if (job.leg.at === 0 && job.leg.back === null) return null
  return h('p', { class: 'caution danger', role: 'note' }, words.notAllBack)
}

function lineOf(app, job, line) {
  const { words } = app
  return h(
    'div',
    { class: `line ${line.verdict}` },
    h('h3', { lang: 'en' }, line.label),
    h('p', { class: 'line-verdict' }, words.lineVerdict[line.verdict]),
    h('p', { lang: 'en' }, line.how),
    line.limit && h('p', { class: 'also', lang: 'en' }, limit(words, line.limit)),
    line.missing.length > 0 && h('p', { class: 'caution caution-plain', lang: 'en' }, line.missing.join('; ')),
    line.verdict !== 'not_applicable' && (line.kind === 'measurement' ? measured(app, job, line) : confirmed(app, job, line)),
    line.advice && h('p', { class: 'also', lang: 'en' }, line.advice),
  )
}

function limit(words, { at_most, at_least, unit, standard, edition }) {
  const bound = at_most !== null ? `≤ ${at_most} ${unit}` : `≥ ${at_least} ${unit}`
  return `${bound} (${standard}, ${edition})`
}

function measured(app, job, line) {
  const { words } = app
  const taken = job.record.readings.map((reading, index) => ({ reading, index })).filter(({ reading }) => reading.quantity === line.id)
  const judgedAs = (place) => line.readings[place]?.verdict
  return [
    h(
      'ul',
      { class: 'chips' },
      taken.map(({ reading, index }, place) =>
        h(
          'li',
          { class: judgedAs(place) },
          h('span', {}, `${reading.over_range ? '> ' : ''}${reading.value} ${reading.unit}${reading.note ? ` (${reading.note})` : ''}${judgedAs(place) ? `: ${words.lineVerdict[judgedAs(place)]}` : ''}`),
          h('button', { type: 'button', class: 'drop', 'aria-label': words.dropFinding(`${reading.value} ${reading.unit}`), onclick: () => enter(app, job, { ...job.record, readings: job.record.readings.filter((each, at) => at !== index) }) }, '×'),
        ),
      ),
    ),
    h(
      'form',
      {
        class: 'reading',
        onsubmit: (event) => {
          event.preventDefault()
          const { value, unit, over, note } = event.target.elements
          const number = Number(value.value.replace(',', '.'))
          if (!value.value.trim() || !Number.isFinite(number) || number < 0) return value.focus()
          const reading = { quantity: line.id, value: number, unit: unit.value, over_range: over.checked, note: note.value || null }
          event.target.reset()
          enter(app, job, { ...job.record, readings: [...job.record.readings, reading] })
        },
      },
      h('div', { class: 'pair' }, h('p', {}, h('label', { for: `value-${line.id}` }, words.shown), h('input', { id: `value-${line.id}`, name: 'value', inputmode: 'decimal', required: true, autocomplete: 'off', size: 8 })),
      h('p', {}, h('label', { for: `unit-${line.id}` }, words.unit), h('select', { id: `unit-${line.id}`, name: 'unit' }, (UNITS[line.unit] ?? [line.unit]).map((unit) => h('option', {}, unit))))),
      h('p', {}, h('label', { for: `note-${line.id}` }, words.where), h('select', { id: `note-${line.id}`, name: 'note', lang: 'en' }, h('option', { value: '' }, '–'), line.places.map((place) => h('option', {}, `${place.component.label}${place.opened ? ' *' : ''}`)))),
      line.places.some((place) => place.opened) && h('p', { class: 'also' }, words.openedEarth),
      h('label', { class: 'tick', for: `over-${line.id}` }, h('input', { type: 'checkbox', id: `over-${line.id}`, name: 'over' }), h('span', { class: 'box', 'aria-hidden': 'true' }), h('span', { class: 'text' }, words.overRange)),
      h('button', { class: 'button plain' }, words.enter),
    ),
  ]
}

function confirmed(app, job, line) {
  const { words } = app
  const given = job.record.confirmed.find((each) => each.line === line.id)
  const set = (on, by) => enter(app, job, { ...job.record, confirmed: [...job.record.confirmed.filter((each) => each.line !== line.id), ...(on ? [{ line: line.id, by, note: null }] : [])] })
  if (given) return tick(`confirmed-${line.id}`, words.confirmedBy(given.by), true, () => set(false))
  return h(
    'form',
    {
      class: 'reading',
      onsubmit: (event) => {
        event.preventDefault()
        const by = event.target.elements.by.value.trim()
        if (!by) return
        app.choose({ name: by })
        set(true, by)
      },
    },
    line.competence && h('p', { class: 'caution caution-plain', lang: 'en' }, line.competence),
    h('p', {}, h('label', { for: `by-${line.id}` }, words.by), h('input', { id: `by-${line.id}`, name: 'by', required: true, maxlength: 100, value: app.choices.name ?? '', autocomplete: 'name' })),
    h('button', { class: 'button plain' }, words.confirm),
  )
}

async function enter(app, job, record) {
  app.change(job, { ...job, record })
  await app.reload()
}

function finish(app, job) {
  const { words } = app
  const list = job.leg?.plan.finish ?? []
  if (!list.length) return null
  return section(
    words.finish,
    h('ul', { class: 'ticks' }, list.map((each, index) => h('li', {}, tick(`finish-${index}`, [h('span', { lang: 'en' }, each.text), each.competence && h('span', { class: 'also', lang: 'en' }, each.competence)], job.finish.includes(each.text), (on) => app.change(job, { ...job, finish: on ? [...job.finish, each.text] : job.finish.filter((text) => text !== each.text) }))))),
  )
}

/** What was done, to print or to send on. */
function sheet(app, job, record) {
  const { words } = app
  const lines = sheetLines(app, job, record)
  return h(
    'section',
    { class: 'sheet', id: 'sheet' },
    h('h2', {}, words.sheet),
    h('dl', {}, lines.map(([name, value]) => [h('dt', {}, name), h('dd', { lang: 'en' }, [value].flat().map((each) => h('p', {}, each)))])),
    h('label', { for: 'note' }, words.note),
    h('textarea', { id: 'note', rows: 3, maxlength: 2000, value: job.note, onchange: (event) => app.change(job, { ...job, note: event.target.value }) }),
    h('div', { class: 'moves' }, button(words.print, () => print(), {}), 'share' in navigator && button(words.share, () => navigator.share({ title: words.sheet, text: lines.map(([name, value]) => `${name}: ${[value].flat().join('; ')}`).join('\n') }).catch(() => {}), {})),
  )
}

function sheetLines(app, job, record) {
  const { words } = app
  const missed = job.leg ? missedChecks(job.leg) : []
  const unmade = job.leg ? checksWithSupply(job.leg).filter((each) => job.leg.checks[each.key] !== true) : []
  const steps = job.leg?.plan.finish.filter((each) => !job.finish.includes(each.text)) ?? []
  return [
    [words.machine, `${job.number} ${job.label}${job.serial ? ` (${words.serial}: ${job.serial})` : ''}`],
    [words.begun, app.when(job.begun)],
    [words.complaint, complaint(job)],
    [words.foundOut, [...job.findings.outcomes.map((each) => job.names[`outcomes ${each.check}`] ?? each.label), ...job.findings.readings.map((each) => each.label)]],
    [words.repairedBy, job.repairedBy ?? words.notSaid],
    [words.replaced, job.replaced.map((each) => `${each.label} ${each.part_number ?? ''}`.trim())],
    [words.notMade, [...missed.map((each) => `${each.part}: ${each.text} (${each.reason})`), ...unmade.map((each) => `${each.part}: ${each.text}`), ...steps.map((each) => each.text)]],
    [words.record, record.lines.filter((line) => line.verdict !== 'not_applicable').map((line) => `${line.label}: ${line.readings.map((each) => `${each.over_range ? '> ' : ''}${each.value} ${each.unit}`).join(', ')} ${words.lineVerdict[line.verdict]}`)],
    [words.result, words.verdict[record.verdict]],
    ...(job.note ? [[words.note, job.note]] : []),
  ].filter(([, value]) => value.length > 0)
}

function ending(app, job, record) {
  const { words, here } = app
  if (job.ended) return section(words.ended(app.when(job.ended)), button(words.openAgain, () => app.change(job, { ...job, ended: null }), { kind: 'quiet' }))
  const passed = record.verdict === 'pass'
  const end = () => app.change(job, { ...job, ended: new Date().toISOString(), handedOver: passed }).then(() => app.go('#/'))
  if (passed) return section(null, button(words.endJob, end, { kind: 'main', id: 'end' }))
  return section(
    null,
    h('p', { class: 'caution danger', role: 'note' }, words.notProvedSafe),
    tick('unsafe', words.leftIsolated, here.unsafe === true, (on) => ((here.unsafe = on), app.redraw())),
    button(words.endUnsafe, end, { id: 'end', disabled: here.unsafe !== true }),
  )
}
