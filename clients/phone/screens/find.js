// Find: one box for symptom, part, code or model; jobs and machines of late below it.

import { machineKey } from '../keep/machines.js'
import { h, section } from '../parts/dom.js'
import { notice } from '../parts/caution.js'
import { plateReader } from '../parts/plate.js'
import { jobAddress, machineAddress } from './index.js'

export const title = () => 'firstoff'

export async function load(app) {
  const [jobs, machines] = await Promise.all([app.jobs.all(), app.database.machines.all()])
  return { jobs, machines }
}

export function view(app, { jobs, machines }) {
  const { words, here } = app
  here.results ??= []
  return [
    h('div', { class: 'finder' }, box(app, machines), h('div', { id: 'found', role: 'region', 'aria-label': words.results }, results(app))),
    here.asked
      ? null
      : [
          openJobs(app, jobs),
          section(
            words.machines,
            machines.length
              ? h('ul', { class: 'rows' }, machines.map((each) => machineRow(app, each)))
              : h('p', { class: 'hint' }, words.noMachines),
            h('p', {}, h('a', { class: 'button plain', href: '#/kept' }, words.keptAndLanguage)),
          ),
        ],
    notice(words),
  ]
}

function box(app, machines) {
  const { words, here } = app
  const ask = async (submitted) => {
    const q = here.typed?.trim() ?? ''
    here.asked = q
    if (!q) {
      here.results = []
      here.note = ''
      return app.redraw()
    }
    here.turn = (here.turn ?? 0) + 1
    const turn = here.turn
    const answer = await (submitted ? searched(app, q) : suggested(app, q)).catch(() => local(app, q, machines))
    if (turn !== here.turn || app.here !== here) return
    Object.assign(here, answer)
    app.redraw()
    app.say(words.count(here.results.length))
  }
  return h(
    'form',
    {
      role: 'search',
      onsubmit: (event) => {
        event.preventDefault()
        clearTimeout(here.timer)
        ask(true)
      },
    },
    h('label', { for: 'q' }, words.findWhat),
    h(
      'div',
      { class: 'with-button' },
      h('input', {
        id: 'q',
        type: 'search',
        value: here.typed ?? '',
        maxlength: 200,
        autocomplete: 'off',
        autocapitalize: 'off',
        spellcheck: 'false',
        enterkeyhint: 'search',
        placeholder: words.findExample,
        oninput: (event) => {
          here.typed = event.target.value
          clearTimeout(here.timer)
          here.timer = setTimeout(() => ask(false), 200)
        },
      }),
      h('button', { class: 'button main' }, words.search),
    ),
    plateReader(app, (text) => {
      here.typed = text
      ask(true)
    }),
  )
}

async function searched(app, q) {
  const answer = await app.client.search(q, { lang: app.language, limit: 20 })
  const note = answer.note ? `${answer.note} ${answer.suggestions.join(', ')}` : ''
  return { results: answer.hits, note }
}

async function suggested(app, q) {
  const answer = await app.client.suggest(q, { lang: app.language, limit: 12 })
  return answer.completions.length ? { results: answer.completions, note: '' } : searched(app, q)
}

/** Without the service: what the names of the machines kept hold. */
async function local(app, q, machines) {
  const words = q.toLowerCase().split(/\s+/)
  const fits = (text) => words.every((word) => text.toLowerCase().includes(word))
  const results = []
  for (const each of machines) {
    if (fits(`${each.label} ${each.model}`)) results.push({ kind: 'model', id: each.model, label: each.label, models: [each.model], serial: each.serial })
    const { components } = await app.client.components(each.model, { limit: 200, serial: each.serial ?? undefined }).catch(() => ({ components: [] }))
    for (const part of components) if (fits(part.label)) results.push({ kind: 'component', id: part.id, label: part.label, models: [each.model], serial: each.serial })
    const { codes } = await app.client.codes(each.model, { limit: 200, serial: each.serial ?? undefined }).catch(() => ({ codes: [] }))
    for (const code of codes) if (fits(`${code.notation} ${code.label}`)) results.push({ kind: 'code', id: code.id, label: `${code.notation}: ${code.label}`, models: [each.model], serial: each.serial })
  }
  return { results: results.slice(0, 30), note: app.words.onlyKeptNames }
}

function results(app) {
  const { words, here } = app
  return [
    here.note && h('p', { class: 'hint', lang: 'en' }, here.note),
    here.asked && !here.results.length && !here.note && h('p', { class: 'hint' }, words.nothingFound),
    h(
      'ul',
      { class: 'rows' },
      here.results.map((hit, index) => h('li', {}, hitRow(app, hit, index))),
    ),
  ]
}

function hitRow(app, hit, index) {
  const { words, here } = app
  const label = [
    h('span', { class: 'kind' }, words.kind[hit.kind] ?? hit.kind),
    h('strong', { lang: hit.lang ?? 'en' }, hit.label),
    hit.matched && hit.matched !== hit.label && h('span', { class: 'also' }, hit.matched),
  ]
  if (hit.models.length === 1) {
    return h('a', { class: 'row', href: address(hit, hit.models[0]) }, label, h('span', { class: 'also' }, hit.models[0].toUpperCase()))
  }
  const open = here.open === index
  return [
    h('button', { type: 'button', class: 'row', id: `hit-${index}`, 'aria-expanded': String(open), onclick: () => ((here.open = open ? null : index), app.redraw()) }, label, h('span', { class: 'also' }, words.onModels(hit.models.length))),
    open &&
      h('ul', { class: 'rows inner' }, hit.models.map((model) => h('li', {}, h('a', { class: 'row', href: address(hit, model) }, model.toUpperCase())))),
  ]
}

function address(hit, model) {
  const machine = machineAddress(model, hit.serial)
  if (hit.kind === 'symptom' || hit.kind === 'code') return `${machine}?${hit.kind}=${encodeURIComponent(hit.id)}&name=${encodeURIComponent(hit.label)}`
  if (hit.kind === 'component') return `${machineAddress(model, hit.serial, 'parts')}?part=${encodeURIComponent(hit.id)}`
  return machine
}

function openJobs(app, jobs) {
  const { words } = app
  const open = jobs.filter((job) => !job.ended)
  return (
    open.length > 0 &&
    section(
      words.openJobs,
      h('ul', { class: 'rows' }, open.map((job) => h('li', {}, h('a', { class: 'row', href: jobAddress(job.id, job.at ?? 'fault') }, h('strong', {}, job.number), h('span', { class: 'also' }, `${complaint(job)} · ${app.when(job.changed ?? job.begun)}`))))),
    )
  )
}

/** The complaint of a job in words. */
export function complaint(job) {
  const named = [...job.findings.symptoms.map((id) => job.names[`symptoms ${id}`] ?? id), ...job.findings.codes.map((id) => job.names[`codes ${id}`] ?? id)]
  return named.join(', ') || job.label
}

function machineRow(app, each) {
  const { words } = app
  const said = each.whole ? words.keptOn(app.when(each.asOf)) : app.keeping.has(machineKey(each.model, each.serial)) ? words.beingKept : words.keptInPart
  return h('li', {}, h('a', { class: 'row', href: machineAddress(each.model, each.serial) }, h('strong', {}, each.label), h('span', { class: 'also' }, said)))
}

