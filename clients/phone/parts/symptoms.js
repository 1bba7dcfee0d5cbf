// A box to name what a machine does or shows: symptoms and codes of that machine alone.

import { h } from './dom.js'

/** A search box whose hits are rows to press; `chosen(kind, id, name)` with kind `symptom` or `code`. */
export function symptomBox(app, model, serial, chosen, id = 'symptom') {
  const { words, here } = app
  const state = (here[id] ??= { typed: '', hits: null, turn: 0 })
  const ask = async () => {
    const q = state.typed.trim()
    const turn = ++state.turn
    if (!q) {
      state.hits = null
      return app.redraw()
    }
    const answers = await Promise.all(
      ['symptom', 'code'].map((kind) => app.client.search(q, { model, serial: serial ?? undefined, kind, lang: app.language, limit: 6 })),
    ).catch((error) => ((state.failed = error), null))
    if (turn !== state.turn || app.here !== here) return
    state.hits = answers ? answers.flatMap((answer) => answer.hits).sort((one, other) => other.score - one.score) : []
    app.redraw()
  }
  return h(
    'form',
    { role: 'search', class: 'symptoms', onsubmit: (event) => (event.preventDefault(), clearTimeout(state.timer), ask()) },
    h('label', { for: id }, words.symptomOrCode),
    h('input', {
      id,
      type: 'search',
      value: state.typed,
      maxlength: 200,
      autocomplete: 'off',
      autocapitalize: 'off',
      oninput: (event) => {
        state.typed = event.target.value
        clearTimeout(state.timer)
        state.timer = setTimeout(ask, 250)
      },
    }),
    state.hits &&
      (state.hits.length
        ? h(
            'ul',
            { class: 'rows' },
            state.hits.slice(0, 8).map((hit, index) =>
              h(
                'li',
                {},
                h(
                  'button',
                  {
                    type: 'button',
                    class: 'row',
                    id: `${id}-${index}`,
                    onclick: () => {
                      here[id] = null
                      chosen(hit.kind, hit.id, hit.label)
                    },
                  },
                  h('span', { class: 'kind' }, words.kind[hit.kind]),
                  h('strong', { lang: hit.lang }, hit.label),
                ),
              ),
            ),
          )
        : h('p', { class: 'hint' }, state.failed ? words.needsSignal : words.nothingFound)),
  )
}
