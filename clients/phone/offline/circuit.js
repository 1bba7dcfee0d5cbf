/**
 * Live points without the service, from the pocket that `GET /v1/models/{model}/pocket` answers with.
 *
 * The same as the service's `energy/liveness.py`, step for step: liveness is reachability over what is closed. What
 * depends on a few devices alone (earth, doubt, what would clear a point, how long a charge takes) the service has
 * worked out for every set of them; it is looked up. Exact, or an error: a point is never shown better than it is.
 */

/** Nominal voltages are rounded: a charge counts as higher than its alternating supply from this ratio on. */
const ROUNDING = 1.01
const NOWHERE = -1

/** What cannot be answered. A device or capacitor that the machine has not is in `named`, `what` says which it is. */
export class NotAnswered extends Error {
  constructor(message, what = null, named = null) {
    super(message)
    this.name = 'NotAnswered'
    this.what = what
    this.named = named
  }
}

/**
 * The body that `GET /v1/models/{model}/live-points?opened=&released=` answers with, with no part off.
 *
 * @param pocket  the answer of `GET /v1/models/{model}/pocket`
 * @param asked   `opened`: ids of devices that are open, `released`: ids of capacitors that are discharged
 * @throws {NotAnswered} a name is unknown, or the pocket has no circuit
 */
export function livePoints(pocket, { opened = [], released = [] } = {}) {
  const circuit = pocket.circuit
  if (!circuit) throw new NotAnswered(pocket.why_no_circuit ?? 'There is no circuit to answer from.')
  const open = known('device', opened, circuit.devices)
  const discharged = known('capacitor', released, circuit.stored.map((each) => each.link))
  const situation = circuit.situations[bits(circuit.deciding, open)]
  const states = statesOf(circuit, situation, open, discharged)
  const cleared = circuit.clearings[situation.cleared_by]
  const points = circuit.points
    .map((point, number) => livePoint(circuit, point, states[number], circuit.sets[cleared[number]]))
    .sort((one, other) => (one.id < other.id ? -1 : 1))
  const answer = {
    revision: pocket.revision,
    notice: pocket.notice,
    draft: pocket.draft,
    bulletins: [],
    model: pocket.model,
    opened: [...open].sort(),
    off: [],
    released: [...discharged].sort(),
    assume: [],
    points,
    stored: stored(circuit, situation, discharged),
  }
  const named = namesIn(answer)
  const touching = ({ parts }) => parts === null || parts.some((part) => named.has(part))
  return { ...answer, bulletins: circuit.bulletins.filter(touching).map((each) => each.note) }
}

function known(what, names, existing) {
  const found = new Set(names)
  const there = new Set(existing)
  for (const name of [...found].sort()) {
    if (!there.has(name)) throw new NotAnswered(`There is no ${what} '${name}'.`, what, name)
  }
  return found
}

/** The set of those of `names` that are in `chosen`, as the bits of a number. */
function bits(names, chosen) {
  return names.reduce((sum, name, place) => sum + (chosen.has(name) ? 2 ** place : 0), 0)
}

/** State, voltage and path of each point, by number. */
function statesOf(circuit, situation, open, discharged) {
  const earth = new Set(situation.earth)
  const doubt = new Set(situation.doubt)
  const isolating = new Set(circuit.isolating)
  const neighbours = neighboursOf(circuit)
  const feeds = circuit.feeds.filter((feed) => !(feed.capacitor && discharged.has(feed.id)))
  const reach = (closed) => reached(circuit, neighbours, feeds, closed, earth)
  const now = reach(circuit.links.map((link) => !open.has(link.device)))
  const later = reach(circuit.links.map((link) => !(open.has(link.device) && isolating.has(link.device))))
  const live = []
  const off = []
  circuit.points.forEach((_, point) => {
    if (now.feeding(point).length) live.push(point)
    else if (later.feeding(point).length && !doubt.has(point)) off.push(point)
  })
  const states = circuit.points.map((_, point) => ({ state: doubt.has(point) ? 'unknown' : 'isolated' }))
  for (const [points, by, state] of [[live, now, 'live'], [off, later, 'off_not_isolated']]) {
    for (const [point, found] of paths(circuit, neighbours, by, earth, points)) {
      states[point] = { state, ...voltage(by.feeding(point), circuit.points[point]), ...found }
    }
  }
  return states
}

/** For each point the links that end there, as [link number, point at the other end]. */
function neighboursOf(circuit) {
  const neighbours = circuit.points.map(() => [])
  circuit.links.forEach(({ start, end }, number) => {
    neighbours[start].push([number, end])
    neighbours[end].push([number, start])
  })
  return neighbours
}

/** What feeds which region where the links `closed` conduct. */
function reached(circuit, neighbours, feeds, closed, earth) {
  const dry = regions(neighbours, closed, earth)
  const anyWet = feeds.some((feed) => feed.wet)
  const wet = anyWet ? regions(neighbours, closed, new Set()) : dry.map(() => NOWHERE)
  const byDry = new Map()
  const byWet = new Map()
  const feedIn = (feed) => {
    const [label, fed] = feed.wet ? [wet, byWet] : [dry, byDry]
    for (const region of new Set(allStarts(feed).map((start) => label[start]))) {
      if (region === NOWHERE) continue
      if (!fed.has(region)) fed.set(region, [])
      fed.get(region).push(feed)
    }
  }
  feeds.filter((feed) => !feed.derived).forEach(feedIn)
  let waiting = feeds.filter((feed) => feed.derived)
  for (let grew = true; grew && waiting.length; ) {
    const fed = (feed) => feed.derived_from.some((point) => byDry.has(dry[point]) || byWet.has(wet[point]))
    const started = waiting.filter(fed)
    started.forEach(feedIn)
    waiting = waiting.filter((feed) => !started.includes(feed))
    grew = started.length > 0
  }
  const alive = new Set([...byDry.values(), ...byWet.values()].flat())
  const feeding = (point) => [...(byDry.get(dry[point]) ?? []), ...(byWet.get(wet[point]) ?? [])]
  return { closed, alive: [...alive], feeding }
}

function allStarts(feed) {
  return feed.neutral === null ? feed.starts : [...feed.starts, feed.neutral]
}

/** A region number for every point: equal where closed links join them without crossing `barrier`, NOWHERE on it. */
function regions(neighbours, closed, barrier) {
  const label = neighbours.map((_, point) => (barrier.has(point) ? NOWHERE : null))
  let region = 0
  for (let first = 0; first < label.length; first++) {
    if (label[first] !== null) continue
    label[first] = region
    const waiting = [first]
    while (waiting.length) {
      for (const [link, other] of neighbours[waiting.pop()]) {
        if (closed[link] && label[other] === null) {
          label[other] = region
          waiting.push(other)
        }
      }
    }
    region += 1
  }
  return label
}

/** For each of `points` what feeds it, by which way, and whether that crosses a load. Sources before stored charge,
 * ways without loads before others, short before long. */
function paths(circuit, neighbours, reach, earth, points) {
  const plain = reach.closed.map((closed, link) => closed && !circuit.links[link].load)
  const found = new Map()
  let missing = points
  for (const holds of [false, true]) {
    for (const [wet, barrier] of [[false, earth], [true, new Set()]]) {
      const feeds = reach.alive.filter((feed) => feed.holds === holds && feed.wet === wet)
      const lines = feeds.flatMap((feed) => feed.starts.map((start) => [start, feed]))
      const neutrals = feeds.filter((feed) => feed.neutral !== null).map((feed) => [feed.neutral, feed])
      if (!lines.length && !neutrals.length) continue
      for (const [closed, throughLoad] of [[plain, false], [reach.closed, true]]) {
        if (!missing.length) break
        const { source, came } = spread(neighbours, closed, barrier, [...lines, ...neutrals])
        for (const point of missing) {
          if (source[point]) found.set(point, { source: source[point], way: wayTo(point, came), throughLoad })
        }
        missing = missing.filter((point) => !found.has(point))
      }
    }
  }
  return found
}

/** Shortest ways over closed links from `starts` ([point, feed]), the first of equals. */
function spread(neighbours, closed, barrier, starts) {
  const source = neighbours.map(() => null)
  const came = neighbours.map(() => null)
  const waiting = []
  for (const [point, feed] of starts) {
    if (source[point] || barrier.has(point)) continue
    source[point] = feed
    waiting.push(point)
  }
  for (const here of waiting) {
    for (const [link, other] of neighbours[here]) {
      if (!closed[link] || source[other] || barrier.has(other)) continue
      source[other] = source[here]
      came[other] = [here, link]
      waiting.push(other)
    }
  }
  return { source, came }
}

/** Points and links by turns, by number, from the start to `point`. */
function wayTo(point, came) {
  const backwards = [point]
  for (let step = came[point]; step !== null; step = came[step[0]]) backwards.push(step[1], step[0])
  return backwards.reverse()
}

/** The highest voltage to earth at a point and its kind of current; null where one should be told but is not. */
function voltage(feeds, point) {
  const sources = feeds.filter((feed) => !feed.holds)
  const unknown = (each) => !each.known
  if (sources.some(unknown) || (!sources.length && feeds.some(unknown))) return { volts: null, current: null }
  let [volts, current, peak] = [null, null, 0]
  for (const feed of sources) {
    if (feed.volts !== null && feed.peak !== null && (volts === null || feed.peak > peak)) {
      ({ volts, current, peak } = feed)
    }
  }
  if (sources.length && point.volts !== null && (volts === null || point.volts >= volts)) {
    volts = point.volts
    current = point.current || current
    const tolerance = Math.max(...sources.map((feed) => feed.tolerance))
    peak = Math.max(peak, volts * (1 + tolerance) * (current === 'dc' ? 1 : Math.SQRT2))
  }
  for (const feed of feeds) {
    if (!feed.holds || feed.volts === null || feed.peak === null) continue
    if (volts === null || feed.peak > peak * (current === 'ac' ? ROUNDING : 1)) ({ volts, current, peak } = feed)
  }
  return { volts, current }
}

function livePoint(circuit, point, found, cleared) {
  const { source = null, way = [], throughLoad = false } = found
  const step = (number, place) => {
    const { id, label } = (place % 2 ? circuit.links : circuit.points)[number]
    return { id, label, what: place % 2 ? 'link' : 'point' }
  }
  return {
    id: point.id,
    label: point.label,
    component: point.component,
    energy: source && source.energy,
    state: found.state,
    volts: found.volts ?? null,
    current: found.current ?? null,
    fed_by: source ? [{ id: source.id, label: source.label, what: 'source' }, ...way.map(step)] : [],
    through_load: throughLoad,
    cleared_by: cleared,
    fault: null,
  }
}

/** What each capacitor that is not released may hold, with its time. */
function stored(circuit, situation, discharged) {
  const waits = circuit.waits[situation.waits]
  return circuit.stored
    .map((charge, place) => ({ charge, wait: circuit.times[waits[place]] }))
    .filter(({ charge }) => !discharged.has(charge.link))
    .map(({ charge, wait }) => ({ ...charge, wait_s: wait.seconds[bits(wait.sharing, discharged)] }))
}

/** Every id and component that an answer names. */
function namesIn(answer) {
  const ids = answer.points.flatMap((point) => [point.id, point.component, ...point.fed_by.map((step) => step.id)])
  return new Set([answer.model.id, ...ids, ...answer.stored.map((charge) => charge.component)])
}
