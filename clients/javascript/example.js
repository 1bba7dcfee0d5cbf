// A visit, from the customer's words to the plan: node example.js http://localhost:8080
import { Firstoff, NoAnswer, ProblemError } from './firstoff.js'

const firstoff = new Firstoff({ base: process.argv[2] ?? 'http://localhost:8080' })
const model = 'tgd27-460-s'

try {
  const { hits } = await firstoff.search('drum wont turn', { model, kind: 'symptom', limit: 1 })
  const found = await firstoff.diagnosis(model, { symptoms: hits.map((hit) => hit.id) })
  console.log(found.notice)
  for (const fault of found.faults.slice(0, 3)) {
    console.log(`${Math.round(fault.share * 100)}% ${fault.label}`)
  }

  const { points } = await firstoff.livePoints(model, { opened: ['power-control'], at: ['heater-element'] })
  for (const point of points) console.log(`${point.label}: ${point.state}`)

  const plan = await firstoff.removalPlan(model, { reach: ['drum-belt'], minimise: 'minutes' })
  console.log(`${plan.minutes} minutes, then ${plan.finish.length} things to see to before it is handed over`)

  for await (const part of firstoff.allComponents(model)) {
    if (part.label.includes('belt')) console.log(part.id)
  }
  await firstoff.component(model, 'drumbelt')
} catch (error) {
  if (error instanceof ProblemError) console.log(`${error.kind}: ${error.detail}`)
  else if (error instanceof NoAnswer) console.log('There is no signal: go by what was taken along.')
  else throw error
}
