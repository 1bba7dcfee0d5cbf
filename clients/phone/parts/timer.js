// A wait that was begun at a known time, so that it runs on while the app is closed.

import { button, h } from './dom.js'

const running = new Set()

setInterval(() => {
  for (const each of running) {
    if (each.element.isConnected) each.draw()
    else running.delete(each)
  }
}, 500)

/** A timer over `seconds`. `begun` is an ISO date or null; `begin()` is called where it is started. */
export function timer(words, { id, seconds, begun, begin }) {
  const element = h('div', { class: 'timer' })
  if (!begun) {
    element.append(button(words.startTimer(clock(seconds)), begin, { id: `timer-${id}` }))
    return element
  }
  const end = Date.parse(begun) + seconds * 1000
  const count = h('span', { class: 'count', role: 'timer' })
  const over = h('span', { class: 'over' })
  element.append(count, over)
  let rung = Date.now() >= end
  const draw = () => {
    const left = Math.max(0, Math.ceil((end - Date.now()) / 1000))
    count.textContent = clock(left)
    if (left > 0 || over.textContent) return
    over.textContent = words.timeOver
    if (!rung) navigator.vibrate?.([300, 150, 300])
    rung = true
  }
  running.add({ element, draw })
  draw()
  return element
}

/** Seconds as minutes and seconds. */
export function clock(seconds) {
  const whole = Math.ceil(seconds)
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}
