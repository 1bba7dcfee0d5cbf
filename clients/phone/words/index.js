// The words of the app, by language. What machines and plans say stays in the language of their content.

import { de } from './de.js'
import { en } from './en.js'
import { es } from './es.js'

export const LANGUAGES = { en: 'English', es: 'Español', de: 'Deutsch' }
const WORDS = { en, es, de }

export function wordsOf(language) {
  return WORDS[language] ?? en
}

/** The first of the preferred languages that the app speaks; English where it speaks none. */
export function languageOf(preferred) {
  const known = (preferred ?? []).map((each) => each.slice(0, 2).toLowerCase()).find((each) => Object.hasOwn(WORDS, each))
  return known ?? 'en'
}
