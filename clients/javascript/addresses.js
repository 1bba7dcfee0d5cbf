/**
 * Addresses: names and values are encoded, never pasted.
 *
 * @typedef {string | number | boolean | null | undefined} Value
 * @typedef {Record<string, Value | readonly Value[]>} Query
 */

/**
 * A path of literal parts and names: path`/v1/models/${model}`.
 *
 * @param {TemplateStringsArray} parts @param {...string} names
 */
export function path(parts, ...names) {
  return parts.reduce((before, part, at) => before + segment(names[at - 1]) + part)
}

/**
 * @param {string | undefined} name
 * @throws {TypeError} it is empty, or a step up the path, which no encoding hides from the network
 */
function segment(name) {
  if (typeof name !== 'string' || /^\.{0,2}$/.test(name)) throw new TypeError(`${JSON.stringify(name)} is no name`)
  return encodeURIComponent(name)
}

/**
 * The query of an address with its question mark, or nothing. What is null or undefined is left out, a list repeats, and
 * an empty list is sent blank: `tools: []` is no tool at hand, tools left out are all.
 *
 * @param {object} query @returns {string}
 */
export function written(query) {
  const found = new URLSearchParams()
  for (const [name, value] of Object.entries(query)) {
    if (value === undefined || value === null) continue
    const values = Array.isArray(value) ? value : [value]
    for (const each of values.length ? values : ['']) found.append(name, String(each))
  }
  const said = found.toString()
  return said && `?${said}`
}
