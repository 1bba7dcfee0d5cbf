// A form for what a meter showed between two points.

import { h } from './dom.js'

const QUANTITIES = ['resistance', 'ac-voltage', 'dc-voltage', 'voltage']

/** The form; `entered(reading)` with a reading as the service takes it. Points of the check's part come first. */
export function readingForm(app, job, step, entered) {
  const { words, here } = app
  here.points ??= app.client
    .livePoints(job.model, { opened: job.opened, serial: job.serial ?? undefined })
    .then((answer) => ((here.pointList = answer.points), app.redraw()))
    .catch(() => ((here.pointList = []), app.redraw()))
  if (!here.pointList) return h('p', {}, words.asking)
  if (!here.pointList.length) return h('p', {}, words.needsSignal)
  const own = (point) => (point.component === step.component ? 0 : 1)
  const points = [...here.pointList].sort((one, other) => own(one) - own(other) || one.label.localeCompare(other.label))
  const choose = (name, label) =>
    h(
      'p',
      {},
      h('label', { for: name }, label),
      h('select', { id: name, name, required: true, lang: 'en' }, h('option', { value: '' }, '–'), points.map((point) => h('option', { value: point.id }, point.label))),
    )
  return h(
    'form',
    {
      onsubmit: (event) => {
        event.preventDefault()
        const { red, black, quantity, value } = event.target.elements
        const named = (id) => points.find((point) => point.id === id)?.label ?? id
        const reading = {
          between: [red.value, black.value],
          quantity: quantity.value,
          value: value.value.trim(),
          opened: [...job.opened].sort(),
          label: `${named(red.value)} – ${named(black.value)}: ${value.value.trim()}`.slice(0, 200),
        }
        event.target.reset()
        entered(reading)
      },
    },
    choose('red', words.redProbe),
    choose('black', words.blackProbe),
    h('p', {}, h('label', { for: 'quantity' }, words.quantity), h('select', { id: 'quantity', name: 'quantity' }, QUANTITIES.map((each) => h('option', { value: each }, words.quantities[each])))),
    h('p', {}, h('label', { for: 'value' }, words.shown), h('input', { id: 'value', name: 'value', required: true, maxlength: 40, autocomplete: 'off', placeholder: words.shownExample })),
    h('button', { class: 'button main' }, words.weigh),
  )
}
