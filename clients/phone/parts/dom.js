// Elements without markup: every text becomes a text node, so nothing from content is ever run.

/** An element: `h('p', {class: 'x', onclick: f}, 'text', child, [more], null)`. Booleans set or leave out attributes. */
export function h(tag, given = {}, ...children) {
  const element = document.createElement(tag)
  fill(element, given)
  element.append(...flat(children))
  return element
}

/** The same for the elements of a drawing. */
export function s(tag, given = {}, ...children) {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag)
  fill(element, given)
  element.append(...flat(children))
  return element
}

/** Fields whose text the app keeps itself; and with which value each other field began. */
const controlled = new WeakSet()
const begunWith = new WeakMap()

function fill(element, given) {
  if ('oninput' in given || ('onchange' in given && element.tagName !== 'TEXTAREA')) controlled.add(element)
  for (const [name, value] of Object.entries(given)) {
    if (value === null || value === undefined || value === false) continue
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value)
    else if (name === 'value' || name === 'checked') element[name] = value
    else element.setAttribute(name, value === true ? '' : String(value))
  }
}

function flat(children) {
  return children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false)
}

const FIELDS = 'input[id], select[id], textarea[id]'
const valueOf = (field) => (field.type === 'checkbox' ? field.checked : field.value)

/** What was entered into fields and not handed in yet, by their ids. */
function entered(element) {
  const fields = [...element.querySelectorAll(FIELDS)].filter((field) => !controlled.has(field))
  return new Map(fields.filter((field) => begunWith.get(field) !== valueOf(field)).map((field) => [field.id, valueOf(field)]))
}

/** Put `children` in place of all that `element` holds, with the focus, the caret and what was being entered as it was. */
export function replace(element, ...children) {
  const focused = element.contains(document.activeElement) ? document.activeElement : null
  const id = focused?.id
  const caret = focused && 'selectionStart' in focused ? [focused.selectionStart, focused.selectionEnd] : null
  const kept = entered(element)
  element.replaceChildren(...flat(children))
  for (const field of element.querySelectorAll(FIELDS)) {
    if (controlled.has(field)) continue
    begunWith.set(field, valueOf(field))
    if (kept.has(field.id)) field[field.type === 'checkbox' ? 'checked' : 'value'] = kept.get(field.id)
  }
  if (!id) return
  const again = document.getElementById(id)
  again?.focus({ preventScroll: true })
  if (caret && caret[0] !== null && again && 'setSelectionRange' in again) {
    try {
      again.setSelectionRange(...caret)
    } catch {
      // Fields of some types have no caret.
    }
  }
}

/** A large button. `given.kind`: main, plain or quiet. */
export function button(text, onclick, given = {}) {
  const { kind = 'plain', ...rest } = given
  return h('button', { type: 'button', class: `button ${kind}`, onclick, ...rest }, text)
}

/** A row that can be ticked; the whole row is the target. */
export function tick(id, text, checked, onchange, given = {}) {
  return h(
    'label',
    { class: 'tick', for: id },
    h('input', { type: 'checkbox', id, checked, onchange: (event) => onchange(event.target.checked), ...given }),
    h('span', { class: 'box', 'aria-hidden': 'true' }),
    h('span', { class: 'text' }, text),
  )
}

/** A part of a screen with a heading. */
export function section(title, ...children) {
  return h('section', {}, title && h('h2', {}, title), ...children)
}

/** Something folded away until it is asked for; `onchange(open)` hears what the user wants. */
export function folded(id, title, open, onchange, ...children) {
  const summary = h('summary', { id: `${id}-title`, onclick: () => onchange?.(!details.open) }, title)
  const details = h('details', { id, open }, summary, ...children)
  return details
}
