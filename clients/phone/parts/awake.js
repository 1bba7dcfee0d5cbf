// The screen stays awake while steps are carried out.

let wanted = false
let lock = null

/** Hold the screen awake, or let it sleep again. Phones that cannot do it sleep as they are set. */
export function holdAwake(on) {
  wanted = on
  if (!on) {
    lock?.release().catch(() => {})
    lock = null
  } else take()
}

async function take() {
  if (!wanted || lock || document.hidden || !('wakeLock' in navigator)) return
  try {
    lock = await navigator.wakeLock.request('screen')
    lock.addEventListener('release', () => (lock = null))
  } catch {
    lock = null
  }
}

document.addEventListener('visibilitychange', take)
