// Reading a rating plate with the camera, only where the browser itself can read bar codes.

import { button, h } from './dom.js'

const FORMATS = ['code_128', 'code_39', 'data_matrix', 'qr_code', 'ean_13']

/** A button that opens the camera and gives the text of the first code it sees; null where the browser cannot. */
export function plateReader(app, read) {
  if (!('BarcodeDetector' in globalThis) || !navigator.mediaDevices?.getUserMedia) return null
  const { words } = app
  return button(words.readPlate, () => open(app, read), { kind: 'plain', id: 'read-plate' })
}

async function open(app, read) {
  const { words } = app
  let stream
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } })
  } catch {
    return app.say(words.noCamera)
  }
  const detector = new globalThis.BarcodeDetector({ formats: FORMATS })
  const video = h('video', { playsinline: true, autoplay: true })
  video.muted = true
  video.srcObject = stream
  let going = true
  const stop = () => {
    going = false
    stream.getTracks().forEach((track) => track.stop())
    dialog.remove()
  }
  const dialog = h('dialog', { class: 'camera', 'aria-label': words.readPlate, onclose: () => going && stop() }, video, button(words.stop, stop, { kind: 'main' }))
  document.body.append(dialog)
  dialog.showModal()
  while (going) {
    await new Promise((next) => setTimeout(next, 250))
    const [code] = going ? await detector.detect(video).catch(() => []) : []
    if (code && going) {
      stop()
      read(code.rawValue.trim().slice(0, 100))
    }
  }
}
