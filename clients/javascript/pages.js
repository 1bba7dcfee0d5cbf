/**
 * Every item of every page. Where the content changes on the way it begins again, and gives what it has not given yet.
 *
 * @template {{page: {total: number}, revision: string}} P
 * @template {{id: string}} T
 * @param {(offset: number) => Promise<P>} ask @param {(page: P) => T[]} items
 * @returns {AsyncGenerator<T, void>}
 */
export async function* every(ask, items) {
  const given = new Set()
  let revision = ''
  for (let offset = 0; ; ) {
    const page = await ask(offset)
    const changed = page.revision !== revision
    revision = page.revision
    if (changed && offset) {
      offset = 0
      continue
    }
    const found = items(page)
    for (const each of found) {
      if (given.has(each.id)) continue
      given.add(each.id)
      yield each
    }
    offset += found.length
    if (!found.length || offset >= page.page.total) return
  }
}
