// The app: opens what is kept, asks the service, shows the screen that the address names.

import { Firstoff, NoAnswer, ProblemError } from '../javascript/firstoff.js'
import { openDatabase, StorageFull } from './keep/database.js'
import { keepingFetch, keyOf } from './keep/answers.js'
import { keepMachine, machineKey } from './keep/machines.js'
import { Jobs } from './keep/jobs.js'
import { languageOf, wordsOf } from './words/index.js'
import { banners, head, jobPath, troubled } from './parts/frame.js'
import { h, replace } from './parts/dom.js'
import { holdAwake } from './parts/awake.js'
import { screenOf } from './screens/index.js'
import { watchForNewApp } from './parts/update.js'

const $ = (id) => document.getElementById(id)
/** Milliseconds until a machine that could not be kept whole is gone on with. */
const AGAIN = 20_000

/** Answers worth keeping: what machines are and their plans; live points are computed, and searches lead here anyway. */
function keeps(method, address) {
  const { pathname, searchParams } = new URL(address, location.href)
  return method === 'GET' && /\/v1\/models\/./.test(pathname) && !(pathname.endsWith('/live-points') && searchParams.size)
}


class App {
  here = {}
  asOf = null
  trouble = new Set()
  keeping = new Map()
  newApp = null

  async start() {
    this.database = await openDatabase()
    this.jobs = new Jobs(this.database.jobs)
    this.choices = (await this.database.choices.get('choices')) ?? {}
    this.useLanguage(this.choices.language ?? languageOf(navigator.languages))
    if (!this.database.lasting) this.trouble.add('forgets')
    this.client = this.clientWith((told) => this.#heard(told))
    addEventListener('hashchange', () => this.show())
    addEventListener('online', () => this.#signal())
    addEventListener('offline', () => this.#signal())
    document.addEventListener('visibilitychange', () => document.hidden || this.bringUpToDate())
    watchForNewApp((take) => {
      this.newApp = take
      this.frame()
    })
    await this.show()
    this.bringUpToDate()
  }

  /** A client whose answers are kept; `told` hears of each. */
  clientWith(told, given = {}) {
    const fetch = keepingFetch({
      fetch: (...asked) => globalThis.fetch(...asked),
      answers: this.database.answers,
      keeps,
      offline: () => !navigator.onLine,
      told,
    })
    return new Firstoff({ base: new URL('.', location.href).href.replace(/\/$/, ''), fetch, retries: 1, ...given })
  }

  get offline() {
    return !navigator.onLine || this.asOf !== null
  }

  /** A date in words, such as 28 Nov, 14:05. */
  when(date) {
    return new Intl.DateTimeFormat(this.language, { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' }).format(new Date(date))
  }

  useLanguage(language) {
    this.language = language
    this.words = wordsOf(language)
    document.documentElement.lang = language
  }

  async choose(choices) {
    this.choices = { ...this.choices, ...choices }
    if (choices.language) this.useLanguage(choices.language)
    await this.database.choices.put('choices', this.choices).catch((error) => this.failed(error))
  }

  #heard({ asOf, error, gone }) {
    if (gone) this.trouble.add('gone')
    if (asOf && (this.asOf === null || asOf < this.asOf)) this.asOf = asOf
    if (error) this.failed(error)
  }

  #signal() {
    if (navigator.onLine) this.bringUpToDate()
    this.reload()
  }

  failed(error) {
    this.trouble.add(error instanceof StorageFull ? 'full' : 'notKept')
    this.frame()
  }

  go(address) {
    if (location.hash === address) this.show()
    else location.hash = address
  }

  /** Show the screen of the address anew, after asking for what it needs. */
  async show() {
    this.here = {}
    this.coming = screenOf(location.hash)
    holdAwake(Boolean(this.coming.awake))
    await this.reload()
    $('screen').scrollTo(0, 0)
    $('screen').focus({ preventScroll: true })
  }

  /** Ask again for what the screen needs, and draw it. */
  async reload() {
    this.asking?.abort()
    const asking = (this.asking = new AbortController())
    const screen = this.coming
    this.asOf = null
    $('screen').setAttribute('aria-busy', 'true')
    const slow = setTimeout(() => {
      if (!$('screen').firstChild) replace($('screen'), h('p', { class: 'pending' }, this.words.asking))
      this.say(this.words.asking)
    }, 400)
    let data = null
    let problem = null
    try {
      data = await screen.load(this, screen.params, asking.signal)
    } catch (error) {
      problem = error
    }
    clearTimeout(slow)
    if (asking.signal.aborted) return
    $('screen').removeAttribute('aria-busy')
    Object.assign(this, { screen, data, problem })
    this.redraw()
  }

  /** Draw the screen from what is known already. */
  redraw() {
    const { screen } = this
    if (!screen) return
    this.frame()
    if (this.problem) replace($('screen'), troubled(this, this.problem))
    else {
      try {
        replace($('screen'), screen.view(this, this.data, screen.params))
      } catch (error) {
        console.error(error)
        replace($('screen'), troubled(this, error))
      }
    }
    const title = $('head').querySelector('h1')?.textContent
    document.title = title ? `${title} · firstoff` : 'firstoff'
    document.body.className = screen.name
    this.say('')
  }

  frame() {
    if (!this.screen) return
    replace($('head'), head(this))
    replace($('banners'), banners(this))
    $('banners').setAttribute('aria-label', this.words.notices)
    replace($('path'), jobPath(this))
    $('path').hidden = !$('path').firstChild
  }

  /** Change the job in hand, keep it, draw the screen. */
  async change(job, changed) {
    const next = typeof changed === 'function' ? changed(job) : changed
    this.data = { ...this.data, job: next }
    this.redraw()
    try {
      await this.jobs.put(next)
    } catch (error) {
      this.failed(error)
    }
    return next
  }

  say(text) {
    if ($('said').textContent !== text) $('said').textContent = text
  }

  /** Keep a machine that was opened, unless it is kept already. */
  async keepOpened(model, serial, label) {
    const kept = await this.database.machines.get(machineKey(model, serial))
    if (!kept?.whole && !this.offline) this.keep(model, serial, label)
    return kept
  }

  /** Keep a machine for where there is no signal; progress is drawn as it comes. */
  async keep(model, serial, label) {
    const key = machineKey(model, serial)
    if (this.keeping.has(key)) return
    this.keeping.set(key, { done: 0, total: 0 })
    const failures = new Map()
    const heard = ({ key, error, asOf }) => error || asOf ? failures.set(key, error ?? new NoAnswer('Only the kept answer is there.')) : failures.delete(key)
    const client = this.clientWith(heard, { retries: 3, cacheSize: 0 })
    const ask = async (address) => {
      const url = new URL(address, 'http://firstoff.invalid')
      const query = {}
      for (const [name, value] of url.searchParams) query[name] = query[name] ? [query[name], value].flat() : value
      const answer = await client.get(url.pathname, query)
      const failure = failures.get(keyOf('GET', address))
      if (failure) throw failure
      return answer
    }
    try {
      navigator.storage?.persist?.()
      await keepMachine({
        ask,
        has: async (address, revision) => (await this.database.answers.get(keyOf('GET', address)))?.revision === revision,
        machines: this.database.machines,
        model,
        serial,
        label,
        told: (progress) => {
          this.keeping.set(key, progress)
          this.frame()
        },
      })
      this.trouble.delete('full')
    } catch (error) {
      if (error instanceof StorageFull) this.failed(error)
      else if (error instanceof ProblemError && error.status === 404) this.trouble.add('gone')
      else this.again ??= setTimeout(() => ((this.again = null), this.bringUpToDate()), AGAIN)
    } finally {
      this.keeping.delete(key)
      if (this.screen?.name === 'machine' || this.screen?.name === 'kept') this.reload()
      else this.frame()
    }
  }

  /** Refresh every machine kept, one after another, where there is signal. */
  async bringUpToDate() {
    if (!navigator.onLine || this.refreshing) return
    this.refreshing = true
    try {
      for (const each of await this.database.machines.all()) await this.keep(each.model, each.serial, each.label)
    } finally {
      this.refreshing = false
    }
  }
}

const app = new App()
app.start().catch((error) => {
  console.error(error)
  replace($('screen'), h('p', { role: 'alert' }, String(error.message ?? error)))
})
