/** A new random UUID (RFC 9562, 5.4), also on a page that came over plain HTTP and in Node 18. */
export async function uuid() {
  /** @type {Pick<Crypto, 'getRandomValues'>} */
  const source = globalThis.crypto ?? (await import('node:crypto')).webcrypto
  const bytes = source.getRandomValues(new Uint8Array(16))
  bytes[6] = (bytes[6] & 0x0f) | 0x40
  bytes[8] = (bytes[8] & 0x3f) | 0x80
  const digits = Array.from(bytes, (each) => each.toString(16).padStart(2, '0')).join('')
  return digits.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5')
}
