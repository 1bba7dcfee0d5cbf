// What is kept on the phone: answers, machines, jobs and choices, in IndexedDB; in memory where there is none.

const STORES = ['answers', 'machines', 'jobs', 'choices']

/** Nothing more can be kept on this phone; what was there before is untouched. */
export class StorageFull extends Error {
  name = 'StorageFull'
}

/**
 * Open what is kept. `lasting` is false where the browser allows no storage: then all is forgotten when it is closed.
 * Each store has `get(key)`, `put(key, value)`, `drop(key)`, `all()` and `keys()`.
 */
export async function openDatabase(factory = globalThis.indexedDB, name = 'firstoff') {
  try {
    const opened = await connect(factory, name)
    return { lasting: true, ...Object.fromEntries(STORES.map((store) => [store, stored(opened, store)])) }
  } catch {
    return { lasting: false, ...Object.fromEntries(STORES.map((store) => [store, inMemory()])) }
  }
}

function connect(factory, name) {
  return new Promise((resolve, reject) => {
    const request = factory.open(name, 1)
    request.onupgradeneeded = () => STORES.forEach((store) => request.result.createObjectStore(store))
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(request.error)
    request.onblocked = () => reject(new Error('blocked'))
  })
}

function stored(database, store) {
  const ask = (mode, act) =>
    new Promise((resolve, reject) => {
      const transaction = database.transaction(store, mode, mode === 'readwrite' ? { durability: 'strict' } : undefined)
      let request
      const failed = (thrown) => {
        const error = transaction.error ?? request?.error ?? thrown
        reject(error?.name === 'QuotaExceededError' ? new StorageFull(error.message) : error)
      }
      try {
        request = act(transaction.objectStore(store))
      } catch (error) {
        return failed(error)
      }
      transaction.oncomplete = () => resolve(request.result)
      transaction.onerror = transaction.onabort = () => failed(new Error('aborted'))
    })
  return {
    get: (key) => ask('readonly', (held) => held.get(key)),
    put: (key, value) => ask('readwrite', (held) => held.put(value, key)),
    drop: (key) => ask('readwrite', (held) => held.delete(key)),
    all: () => ask('readonly', (held) => held.getAll()),
    keys: () => ask('readonly', (held) => held.getAllKeys()),
  }
}

/** A store of the same shape that lives as long as the page. */
function inMemory() {
  const held = new Map()
  return {
    get: async (key) => structuredClone(held.get(key)),
    put: async (key, value) => void held.set(key, structuredClone(value)),
    drop: async (key) => void held.delete(key),
    all: async () => structuredClone([...held.values()]),
    keys: async () => [...held.keys()],
  }
}
