/**
 * The safety record judged without the service: the same as its `handover/judging.py` and `answers/record.py`.
 *
 * All that is needed stands in the blank record: limits, what is missing for one, who alone may confirm. Only `pass`
 * lets a machine be handed over, and what is not understood is refused, never passed.
 */

/** Units as instruments spell them, and by what a value is multiplied or divided to be in the unit of the limit. */
const UNITS = {
  'earth-continuity': {
    multiply: { ohm: 1, ohms: 1, '\u03a9': 1 },
    divide: { mohm: 1000, milliohm: 1000, milliohms: 1000, 'm\u03a9': 1000 },
    most: 1e6,
  },
  'insulation-resistance': {
    multiply: { Mohm: 1, megohm: 1, megohms: 1, 'M\u03a9': 1, Gohm: 1000, 'G\u03a9': 1000 },
    divide: { kohm: 1000, 'k\u03a9': 1000 },
    most: 1e7,
  },
  'leakage-current': { multiply: { mA: 1 }, divide: { uA: 1000, '\u03bcA': 1000 }, most: 1e4 },
}
const BLANK = '[\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000]+'
const BLANKS_AROUND = new RegExp(`^${BLANK}|${BLANK}$`, 'gu')
const FAILED = 'Do not hand the machine over. Isolate it, lock it off'
const CAUSE = {
  'earth-continuity': 'find the earth that is open or loose, tighten it on bare metal, and measure again.',
  'insulation-resistance':
    'part the circuits to find where it is low, dry or renew that part, and measure again. Do not plug it in before.',
  'leakage-current': 'find the part that leaks by taking parts off the circuit one by one, and measure again.',
}

/** What is entered makes no sense, and what to do about it. */
export class Refused extends Error {
  constructor(message, mend) {
    super(message)
    this.name = 'Refused'
    this.mend = mend
  }
}

/**
 * What `POST /v1/models/{model}/safety-record` answers with these readings and confirmations, for the same `done`.
 *
 * @param record  blank: the answer of `GET /v1/models/{model}/safety-record`, or `record` of a plan
 * @param entered `readings`: {quantity, value, unit, over_range, note}, `confirmed`: {line, by, note}; numbers are
 *                numbers, not text
 * @throws {Refused} a reading or a confirmation makes no sense
 */
export function judged(record, { readings = [], confirmed = [] } = {}) {
  if (readings.length > 200 || confirmed.length > 100) {
    throw new Refused('There are more entries than a record takes.', 'Enter up to 200 readings and 100 confirmations.')
  }
  if (record.lines.some((line) => line.readings.length || line.confirmed_by !== null)) {
    throw new Refused('This record is filled in already.', 'Start from the blank record, with every entry.')
  }
  const entries = readings.map(reading)
  const signatures = confirmed.map((each) => confirmation(each, record))
  const lines = record.lines.map((line) =>
    line.kind === 'measurement'
      ? measured(line, entries.filter((each) => each.quantity === line.id))
      : signed(line, signatures.filter((each) => each.line === line.id)),
  )
  const verdict = overall(lines.map((line) => line.verdict))
  return { ...record, lines, verdict, advice: advice(verdict, lines) }
}

/** A reading with its value in the unit of the limit. */
function reading({ quantity, value, unit, over_range = false, note = null }) {
  const known = Object.hasOwn(UNITS, quantity) && UNITS[quantity]
  if (!known) throw new Refused(`'${quantity}' is not measured here.`, `Measure ${Object.keys(UNITS).join(', ')}.`)
  if (typeof value !== 'number' || !Number.isFinite(value) || value < 0 || typeof over_range !== 'boolean') {
    throw new Refused(
      `${value} ${unit} is no reading of ${quantity}.`,
      'Enter the number on the instrument, 0 or more. Where it shows more than its range, enter the end of the range ' +
        'and say over range.',
    )
  }
  short(unit, 1, 20, 'The unit')
  if (note !== null) short(note, 0, 500, 'The note')
  // One spelling each of the ohm and the micro sign.
  const plain = unit.replace(BLANKS_AROUND, '').normalize('NFKC')
  const many = Object.hasOwn(known.multiply, plain)
  if (!many && !Object.hasOwn(known.divide, plain)) {
    const names = Object.keys({ ...known.multiply, ...known.divide }).filter((name) => /^[a-z]+$/i.test(name))
    throw new Refused(`'${unit}' is no unit of ${quantity}.`, `Give ${names.join(', ')}.`)
  }
  const found = many ? value * known.multiply[plain] : value / known.divide[plain]
  if (found > known.most) {
    throw new Refused(
      `${value} ${unit} is more than any instrument shows of ${quantity}.`,
      'Look at the unit. Where the instrument shows more than its range, enter the end of the range and say over ' +
        'range.',
    )
  }
  return { quantity, value, unit, over_range, note, found }
}

function confirmation({ line, by, note = null }, record) {
  const lines = record.lines.filter((each) => each.kind === 'confirmation').map((each) => each.id)
  if (!lines.includes(line)) throw new Refused(`There is no line to confirm '${line}'.`, 'Use a line of the record.')
  short(by, 1, 100, 'Who did it')
  if (note !== null) short(note, 0, 500, 'The note')
  return { line, by, note }
}

function short(text, least, most, what) {
  const size = typeof text === 'string' ? [...text].length : -1
  if (size >= least && size <= most) return
  throw new Refused(`${what} has ${least} to ${most} characters.`, 'Correct what is entered.')
}

/** What one reading says. Over range it says what holds for every value above. */
function verdictOf({ found, over_range }, { at_most, at_least }) {
  const holds = (at_most === null || found <= at_most) && (at_least === null || found >= at_least)
  if (!over_range) return holds ? 'pass' : 'fail'
  if (at_most !== null) return found >= at_most ? 'fail' : 'unknown'
  return holds ? 'pass' : 'unknown'
}

/** A measurement with what was read: the worst counts. */
function measured(line, entries) {
  const needed = line.verdict !== 'not_applicable'
  const readings = entries.map((each) => {
    const told = !needed ? 'not_applicable' : line.limit ? verdictOf(each, line.limit) : 'unknown'
    return { value: each.value, unit: each.unit, over_range: each.over_range, note: each.note, verdict: told }
  })
  const found = new Set(readings.map((each) => each.verdict))
  const worst = ['fail', 'unknown', 'pass'].find((each) => found.has(each)) ?? 'not_measured'
  const verdict = needed ? worst : 'not_applicable'
  return { ...line, readings, verdict, advice: readings.length && needed ? adviceOf(line, verdict) : line.advice }
}

function adviceOf(line, verdict) {
  if (verdict === 'pass') return `The ${line.label} is within the limit.`
  if (verdict === 'fail') return `${FAILED}, ${CAUSE[line.id]}`
  // Without a limit the blank line says why there is none.
  if (line.missing.length) return line.advice
  return `The range of the instrument ended short of the limit. Measure the ${line.label} again in a suitable range.`
}

function signed(line, own) {
  const last = own.at(-1)
  if (!last) return line
  const { by, note } = last
  return { ...line, confirmed_by: by, note, verdict: 'pass', advice: `Confirmed by ${by}.` }
}

/** Of the whole record: pass only where every line that applies passes and one does at least. */
function overall(verdicts) {
  const found = new Set(verdicts.filter((each) => each !== 'not_applicable'))
  if (found.has('fail')) return 'fail'
  if (found.size === 1 && found.has('pass')) return 'pass'
  return found.has('unknown') ? 'unknown' : 'not_measured'
}

/** What to do with the machine as a whole. */
function advice(verdict, lines) {
  if (verdict === 'pass') return ['Every line that applies is within its limit: sign, date and hand over.']
  const named = (word) => lines.filter((line) => line.verdict === word).map((line) => line.label).join(', ')
  const [failed, unknown, open] = ['fail', 'unknown', 'not_measured'].map(named)
  return [
    failed && `Failed: ${failed}. ${FAILED}, tell the customer, and find the cause.`,
    unknown && `Not known to be safe: ${unknown}. Unknown is never a pass.`,
    open && `Still open: ${open}. Do not hand the machine over before.`,
  ].filter(Boolean)
}
