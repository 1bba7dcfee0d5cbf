// Cautions, always before the act they belong to, with the signal words of ISO 3864 and ANSI Z535.

import { h } from './dom.js'

const ORDER = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE']

/** Cautions, the worst first. */
export function cautions(words, notes) {
  const sorted = [...notes].sort((one, other) => ORDER.indexOf(one.signal_word) - ORDER.indexOf(other.signal_word))
  return sorted.map((each) => caution(words, each))
}

/** One caution: what can happen, and what protects. */
export function caution(words, note) {
  return h(
    'div',
    { class: `caution ${note.signal_word.toLowerCase()}`, role: 'note' },
    h('p', { class: 'word' }, words.signal[note.signal_word] ?? note.signal_word, h('span', { class: 'hazard', lang: 'en' }, note.hazard)),
    h('p', { lang: 'en' }, note.text),
    note.protection && h('p', { class: 'protection', lang: 'en' }, note.protection),
  )
}

/** What always comes first, and whether the content was reviewed. */
export function notice(words, answer) {
  return [
    h('p', { class: 'always' }, words.always),
    answer?.draft && h('p', { class: 'caution warning' }, words.draft),
    ...(answer?.bulletins ?? []).map((each) =>
      h('div', { class: 'bulletin', lang: 'en' }, h('strong', {}, `${each.kind}: ${each.label}`), h('p', {}, each.text)),
    ),
  ]
}
