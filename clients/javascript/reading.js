/**
 * The addresses that are read by GET: a method of the client for each, its arguments the names in braces and then the
 * options; typing.d.ts has their types.
 */
export const READING = /** @type {const} */ ({
  /** A page of the models, or those that a number on a rating plate may stand for. */
  models: '/v1/models',
  /** What is known of a model: its platform, what differs, bulletins. */
  model: '/v1/models/{model}',
  /** A page of the parts. */
  components: '/v1/models/{model}/components',
  /** A part, with ways in and removals. */
  component: '/v1/models/{model}/components/{component}',
  /** What a part hides. */
  hidden: '/v1/models/{model}/components/{component}/hidden',
  /** Resistance of a part over temperature. */
  curve: '/v1/models/{model}/components/{component}/curve',
  /** The plans that no other beats. */
  pareto: '/v1/models/{model}/removal-plan/pareto',
  /** The plan as a drawing: SVG text. */
  planPicture: '/v1/models/{model}/removal-plan/picture',
  /** The plan as a page to print: HTML text. */
  jobSheet: '/v1/models/{model}/job-sheet',
  /** What is worth doing while the machine is open. */
  whileOpen: '/v1/models/{model}/while-open',
  /** What is within reach now, and by one more removal. */
  exposed: '/v1/models/{model}/exposed',
  /** The state of every point. Unknown is never safe. */
  livePoints: '/v1/models/{model}/live-points',
  /** The supply as a drawing: SVG text. */
  supplyPicture: '/v1/models/{model}/supply-picture',
  /** How to make points safe to touch. */
  isolation: '/v1/models/{model}/isolation',
  /** Making safe for a plan, and restoring. */
  makeSafe: '/v1/models/{model}/make-safe',
  /** Every energy of a machine, worst kind first. */
  energies: '/v1/models/{model}/energies',
  /** What to take along where there is no signal. */
  pocket: '/v1/models/{model}/pocket',
  /** What a meter should read. */
  reading: '/v1/models/{model}/reading',
  /** Is the socket in order. */
  socketCheck: '/v1/models/{model}/socket-check',
  /** Pressure of a refrigerant over temperature. */
  saturation: '/v1/refrigerants/{refrigerant}/saturation',
  /** The parts likeliest to make one visit suffice, and the tools. */
  carry: '/v1/models/{model}/carry',
  /** A page of the codes that the machine shows or stores. */
  codes: '/v1/models/{model}/codes',
  /** What a code says, and what it does not prove. */
  code: '/v1/models/{model}/codes/{code}',
  /** How to read and clear stored codes; what each test programme makes live. */
  serviceModes: '/v1/models/{model}/service-modes',
  /** What is measured, seen and written down before the machine is handed over. */
  safetyRecord: '/v1/models/{model}/safety-record',
  /** What jobs have shown of a model. */
  outcomes: '/v1/models/{model}/outcomes',
  /** Every platform with its models and versions. */
  graphs: '/v1/graphs',
  /** A platform as Turtle text. */
  graph: '/v1/graphs/{platform}',
  /** Who published each version, when and why. */
  graphVersions: '/v1/graphs/{platform}/versions',
  /** A version as Turtle text. */
  graphVersion: '/v1/graphs/{platform}/versions/{number}',
  /** What differs between two versions, in words. */
  graphDifference: '/v1/graphs/{platform}/difference',
  /** Who published what, as Turtle text. */
  graphProvenance: '/v1/graphs/{platform}/provenance',
  /** The ontology as Turtle text. */
  ontology: '/ontology',
  /** The context of the answers as JSON-LD. */
  context: '/v1/context.jsonld',
  /** Is the content loaded, and was any of it refused. */
  ready: '/readyz',
  /** Is the service there, and of which version. */
  health: '/healthz',
})

const JSON_LD = 'application/ld+json'
const SVG = 'image/svg+xml'
const TURTLE = 'text/turtle'

/** Media types of the addresses that do not answer in plain JSON. @type {Record<string, string | undefined>} */
export const MEDIA = {
  planPicture: SVG,
  supplyPicture: SVG,
  jobSheet: 'text/html',
  graph: TURTLE,
  graphVersion: TURTLE,
  graphProvenance: TURTLE,
  ontology: TURTLE,
  context: JSON_LD,
}

/** Answers that come from no one revision of the content. */
export const UNGROUNDED = new Set(['saturation', 'graphs', 'graphVersions', 'graphDifference', 'context', 'health'])

/**
 * An address with names put in. A slash, as in numbers on plates, says no more than a space, and would be a step.
 *
 * @param {string} address @param {readonly unknown[]} names
 * @throws {TypeError} a name is missing, is a step up the path, which no encoding hides, or is no Unicode text
 */
export function filled(address, names) {
  let at = 0
  return address.replace(/\{(\w+)\}/g, (_, what) => {
    const name = names[at++]
    if (typeof name === 'number') return String(name)
    if (typeof name !== 'string' || /^\.{0,2}$|\p{Surrogate}/u.test(name)) throw new TypeError(`${name} is no ${what}`)
    return encodeURIComponent(name.replaceAll('/', ' '))
  })
}

/** How many names an address takes. @param {string} address */
export const arity = (address) => address.split('{').length - 1

/**
 * The query of an address with its question mark, or nothing. What is null or undefined is left out, a list repeats,
 * and an empty list is sent blank: `tools: []` is no tool at hand, tools left out are all.
 *
 * @param {object} query
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
