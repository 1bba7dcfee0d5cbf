// Going on with a diagnosis without the service: along the tree that came with its last answer.

/**
 * What the tree says after `outcomes`, those since the answer in order; null where it does not reach that far.
 * Shaped like the answer: `faults` with shares, `next` with what to do.
 */
export function followed(answer, outcomes) {
  let next = answer.next
  let shares = null
  for (const { check, label } of outcomes) {
    if (!next || next.id !== check) return null
    const then = next.then.find((each) => each.outcome === label)
    if (!then || then.cut) return null
    shares = then.faults
    next = then.step
  }
  if (shares === null) return answer
  const before = new Map(answer.faults.map((fault) => [fault.id, fault]))
  const faults = Object.entries(shares)
    .map(([id, share]) => ({ ...(before.get(id) ?? { id, label: id, remedies: [], guard: null }), share, moved: [] }))
    .sort((one, other) => other.share - one.share || one.id.localeCompare(other.id))
  return { ...answer, faults, next, readings: [], pairs: [], conflict: null, contradicted: faults.length === 0 }
}

/** The outcomes of `findings` that came after `asked`; null where anything else changed, so that no tree can tell. */
export function since(asked, findings) {
  const rest = ({ outcomes, ...others }) => JSON.stringify(others)
  if (rest(asked) !== rest(findings)) return null
  const start = JSON.stringify(asked.outcomes)
  if (JSON.stringify(findings.outcomes.slice(0, asked.outcomes.length)) !== start) return null
  return findings.outcomes.slice(asked.outcomes.length)
}
