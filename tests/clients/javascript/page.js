// Asks through the client on a page with a strict policy, and writes what came of it where the test reads it.
import { Firstoff, ProblemError } from '/module/firstoff.js'

const out = document.querySelector('output')
const said = {}
const violated = []
document.addEventListener('securitypolicyviolation', (event) => violated.push(event.violatedDirective))

/** Does the page's policy hold: what it forbids fails. */
function forbidden(attempt) {
  try {
    attempt()
    return false
  } catch {
    return true
  }
}

try {
  const firstoff = new Firstoff()
  const models = []
  for await (const each of firstoff.allModels({ limit: 3 })) models.push(each.id)
  said.models = models.length
  said.minutes = (await firstoff.removalPlan('tgd27-460-s', { reach: ['drum-belt'] })).minutes
  said.live = (await firstoff.livePoints('tgd27-460-s', { at: ['heater-1'] })).points.map((each) => each.state)
  said.faults = (await firstoff.diagnosis('tgd27-460-s', { symptoms: ['no-heat'] })).faults.length
  said.picture = (await firstoff.supplyPicture('tem34-260-h', { at: ['magnetron'] })).startsWith('<svg')
  const again = await firstoff.removalPlan('tgd27-460-s', { reach: ['drum-belt'] })
  said.again = again.minutes === said.minutes
  said.outcome = await firstoff.outcome({ model: 'tgd27-460-s' }).catch((error) => error.kind)
  said.hostile = await firstoff.model('<img src=x onerror=alert(1)>').catch((error) => error instanceof ProblemError && error.detail)
  await new Promise((resolve) => setTimeout(resolve, 0))
  said.violated = [...violated]
  said.strict = forbidden(() => new Function('1')) && forbidden(() => (document.createElement('p').innerHTML = '<b>'))
} catch (error) {
  said.error = String(error.stack ?? error)
}
out.textContent = JSON.stringify(said)
out.dataset.done = 'yes'
