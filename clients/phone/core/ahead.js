// What may be asked next, so that it can be asked while there is signal.

import { standing, withPlan } from './job.js'

/** How many plans to ask for ahead of their need. */
const MOST = 24

/**
 * Ask for the plans along a diagnosis: to each check and remedy of its tree, from how the machine stands once the plan
 * before it is carried out. `ask(target, {off, states})` resolves to a plan, or null where there is none.
 */
export async function plansAhead(next, from, ask) {
  let left = MOST
  let row = [{ step: next, from }]
  while (row.length && left > 0) {
    const following = []
    for (const { step, from } of row) {
      if (!step || left === 0) continue
      let after = from
      if (step.reach) {
        left -= 1
        const plan = await ask(step.reach, from)
        if (!plan) continue
        after = standing({ ...withPlan({ leg: null, done: [] }, plan).leg, at: plan.steps.length })
      }
      following.push(...step.then.map((then) => ({ step: then.step, from: after })))
    }
    row = following
  }
}
