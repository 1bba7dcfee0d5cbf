// A job as it stands: plain data, changed by pure functions, kept after every change.
//
// A leg is one plan that is being carried out: its steps are ticked on the way in, its refit on the way back. A plan made
// on the way replaces the leg; what is off and the states then are carried over by the service's own plan.

/** A new job on a machine. `id` is anything unique, `now` an ISO date. */
export function newJob(id, now, { model, serial = null, label, number }) {
  return {
    id,
    model,
    serial,
    label,
    number,
    begun: now,
    ended: null,
    findings: { symptoms: [], absent: [], codes: [], outcomes: [], readings: [], tried: [] },
    names: {},
    carried: [],
    leg: null,
    done: [],
    opened: [],
    released: [],
    proved: {},
    waits: {},
    missed: [],
    replaced: [],
    record: { readings: [], confirmed: [] },
    finish: [],
    note: '',
  }
}

/** The job with a plan to carry out. Ticks of the leg before are kept in `done`. */
export function withPlan(job, plan, asOf) {
  const done = job.leg ? [...job.done, ...deeds(job.leg)] : job.done
  return { ...job, done, proved: {}, leg: { plan, asOf, at: 0, back: null, ticked: {}, checks: {} } }
}

/** The step in hand: `{step, n, of, back}`; null once all is done that way. */
export function stepInHand(leg) {
  const steps = leg.back === null ? leg.plan.steps : closing(leg)
  const n = leg.back === null ? leg.at : leg.back
  return n < steps.length ? { step: steps[n], n, of: steps.length, back: leg.back !== null } : null
}

/** The job with the step in hand done at `now`. */
export function stepDone(job, now) {
  const { leg } = job
  const hand = stepInHand(leg)
  if (!hand) return job
  const side = hand.back ? 'refit' : 'steps'
  const ticked = { ...leg.ticked, [`${side} ${hand.n}`]: now }
  const next = hand.back ? { ...leg, back: leg.back + 1, ticked } : { ...leg, at: leg.at + 1, ticked }
  return { ...job, leg: next, replaced: replacedBy(job, hand), opened: openedBy(job, hand), released: releasedBy(job, hand) }
}

function replacedBy(job, { step }) {
  if (step.action !== 'replace' || !step.component) return job.replaced
  const part = job.leg.plan.kit.parts.find((each) => each.id === step.component.id) ?? { ...step.component, part_number: null }
  return [...job.replaced.filter((each) => each.id !== part.id), part]
}

function openedBy(job, { step }) {
  const devices = job.leg.plan.make_safe.devices.map((each) => each.id)
  if (step.action === 'isolate' || step.action === 'isolate_again') return [...new Set([...job.opened, ...devices])]
  if (step.action === 'restore_supply') return job.opened.filter((each) => !devices.includes(each))
  return job.opened
}

/** What was discharged, by the names of the plan; what the supply charges again counts as charged. */
function releasedBy(job, { step }) {
  if (step.action === 'restore_supply') return []
  if (step.action !== 'release') return job.released
  const held = job.leg.plan.make_safe.release.filter((each) => each.energy === 'stored-charge' && each.component.id === step.component?.id)
  return [...new Set([...job.released, ...held.map((each) => each.id)])].sort()
}

/** The job one step back: the last tick is taken away. */
export function stepUndone(job) {
  const { leg } = job
  if (leg.back !== null) return { ...job, leg: { ...leg, back: leg.back > 0 ? leg.back - 1 : null } }
  return leg.at > 0 ? { ...job, leg: { ...leg, at: leg.at - 1 } } : job
}

/** The job turned round: from here on what is off goes back. */
export function turnedBack(job) {
  return job.leg && job.leg.back === null ? { ...job, leg: { ...job.leg, back: 0 } } : job
}

/**
 * How the machine stands after the steps ticked: removals that took parts off, and states in force, as a plan takes them
 * (`off`, `states`), what was off and in force when the plan began included.
 */
export function standing(leg) {
  const off = new Map(leg.plan.off.map((part) => [part.id, part.id]))
  let states = leg.plan.states.map((state) => state.id)
  const doing = [...leg.plan.steps.slice(0, leg.at), ...(leg.back === null ? [] : closing(leg).slice(0, leg.back))]
  for (const step of doing) {
    if (step.action === 'remove') off.set(step.component.id, step.way ?? step.component.id)
    if (step.action === 'refit') {
      off.delete(step.component.id)
      off.delete(step.way)
    }
    if (step.states) states = step.states
  }
  return { off: [...off.values()], states }
}

/**
 * The refit of what was done: the whole of it after all steps; else without what was never taken off or prepared. Parts
 * that stay on are where a refit would leave them, so the order of the rest still holds.
 */
export function closing(leg) {
  const { plan, at } = leg
  if (at >= plan.steps.length) return plan.refit
  const done = new Map()
  for (const part of plan.off) done.set(part.id, true)
  for (const step of plan.steps.slice(0, at)) {
    const way = step.way
    if (!way) continue
    if (['remove', 'prepare', 'isolate', 'isolate_again'].includes(step.action)) done.set(way, true)
    if (['refit', 'undo', 'restore_supply'].includes(step.action)) done.delete(way)
  }
  const begun = new Set([...plan.off.map((part) => part.id), ...plan.states.map((state) => state.id)])
  const needed = (step) => step.way === null || done.has(step.way) || (step.component && begun.has(step.component.id)) || carriedOver(plan, step)
  const steps = plan.refit.filter(needed)
  const restores = steps.some((step) => step.action === 'restore_supply')
  return steps.filter((step) => step.action !== 'verify' || restores)
}

/** Whether a step of the refit takes back what was so before the plan began: no step of the plan did it. */
function carriedOver(plan, step) {
  return !plan.steps.some((each) => each.way === step.way)
}

/** What the ticks of a leg amount to, for the safety record: components taken off and preparations made. */
function deeds(leg) {
  const steps = leg.plan.steps.slice(0, leg.at)
  const ways = steps.filter((step) => step.action === 'prepare' || step.action === 'isolate').map((step) => step.way)
  const parts = steps.filter((step) => step.action === 'remove').map((step) => step.component.id)
  return [...new Set([...parts, ...ways].filter(Boolean))]
}

/** All that was done in the job, as the safety record takes it (`done`). */
export function allDeeds(job) {
  return [...new Set([...job.done, ...(job.leg ? deeds(job.leg) : [])])].sort()
}

/** The name of a check of a refit step. */
export function checkKey(step, index) {
  return `${step.n} ${index}`
}

/** The job with a check of the step in hand made (`true`), not made for a reason (text), or open again (null). */
export function withCheck(job, key, value) {
  const checks = { ...job.leg.checks, [key]: value }
  if (value === null) delete checks[key]
  return { ...job, leg: { ...job.leg, checks } }
}

/** The checks of a step that are neither made nor given a reason: the step is not done while there are any. */
export function openChecks(leg, step) {
  return step.checks.filter((check, index) => !check.after_supply && leg.checks[checkKey(step, index)] === undefined)
}

/** Checks that were not made, with the reason given, over the whole refit. */
export function missedChecks(leg) {
  return leg.plan.refit.flatMap((step) =>
    step.checks.flatMap((check, index) => {
      const said = leg.checks[checkKey(step, index)]
      return typeof said === 'string' ? [{ part: step.component?.label ?? step.label, text: check.text, reason: said }] : []
    }),
  )
}

/** Checks that can only be made with the supply back, each with its key. */
export function checksWithSupply(leg) {
  return closing(leg).flatMap((step) =>
    step.checks.flatMap((check, index) =>
      check.after_supply ? [{ key: checkKey(step, index), part: step.component?.label ?? '', text: check.text }] : [],
    ),
  )
}

/** Which lines of the prove-dead list are still open, by their place in the list. */
export function openProofs(job) {
  const list = job.leg?.plan.make_safe.prove_dead ?? []
  return list.flatMap((line, index) => (job.proved[index] ? [] : [{ ...line, index }]))
}

/** The points laid bare so far that were not proved dead: hands off. */
export function bareUnproved(job) {
  const { leg } = job
  if (!leg || leg.back !== null) return []
  const bared = new Set(leg.plan.steps.slice(0, leg.at).flatMap((step) => step.exposes.map((point) => point.id)))
  return openProofs(job).filter((line) => line.points.some((point) => bared.has(point)))
}

/** The body of a question about what is wrong, from the findings so far. */
export function question(job) {
  const standing_ = job.leg ? standing(job.leg) : { off: [], states: [] }
  return {
    symptoms: job.findings.symptoms,
    absent: job.findings.absent,
    codes: job.findings.codes,
    outcomes: job.findings.outcomes,
    readings: job.findings.readings,
    tried: job.findings.tried,
    off: standing_.off,
    states: standing_.states,
    tree: true,
    ...(job.serial ? { serial: job.serial } : {}),
  }
}

/** The job with a finding added; `name` is what it is called. */
export function found(job, kind, value, name) {
  const id = typeof value === 'string' ? value : (value.check ?? value.label)
  const others = job.findings[kind].filter((each) => JSON.stringify(each) !== JSON.stringify(value) && (each.check === undefined || each.check !== value.check))
  return { ...job, findings: { ...job.findings, [kind]: [...others, value] }, names: { ...job.names, [`${kind} ${id}`]: name } }
}

/** The job without a finding. */
export function unfound(job, kind, value) {
  const text = JSON.stringify(value)
  return { ...job, findings: { ...job.findings, [kind]: job.findings[kind].filter((each) => JSON.stringify(each) !== text) } }
}
