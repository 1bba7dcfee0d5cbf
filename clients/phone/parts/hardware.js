// Fastenings, connections and tools of a step.

import { h } from './dom.js'

/** What holds a part and what is joined to it, as short lines. */
export function hardware(words, step) {
  const lines = [
    ...step.fastenings.map((each) => [each.count > 1 ? `${each.count} ×` : null, each.kind, each.drive, each.size, each.torque_nm ? `${each.torque_nm} Nm` : null, each.single_use ? `(${words.singleUse})` : null]),
    ...step.connections.map((each) => [each.label, each.lock, each.seal, each.single_use ? `(${words.singleUse})` : null]),
  ]
  return [
    lines.length > 0 && h('ul', { class: 'hardware', lang: 'en' }, lines.map((line) => h('li', {}, line.filter(Boolean).join(' ')))),
    step.tools.length > 0 && h('p', { class: 'tools' }, h('span', {}, `${words.tools}: `), h('span', { lang: 'en' }, step.tools.map((tool) => tool.label).join(', '))),
  ]
}
