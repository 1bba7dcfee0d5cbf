/** What may be asked and what is answered, as it follows from the service's own description in types.d.ts. */
import type { READING } from './reading.js'
import type { components, paths } from './types.js'

export type Schemas = components['schemas']

/** Gives a question up. */
export interface Stop {
  signal?: AbortSignal | null
}

/** The names in an address, in order. */
type Names<Address extends string> = Address extends `${string}}${infer Rest}`
  ? [name: string | number, ...Names<Rest>]
  : []

/** What an address may be asked by GET. One that is not described takes a serial number. */
export type Asked<Address extends string> = (Address extends keyof paths
  ? paths[Address] extends { get: { parameters: { query?: infer Query } } }
    ? [Query] extends [undefined]
      ? {}
      : NonNullable<Query>
    : {}
  : { serial?: string | null }) &
  Stop

/** What an address answers: the body of its JSON, or text. */
type Given<Address extends string> = Address extends keyof paths
  ? paths[Address] extends { get: { responses: { 200: { content: infer Content } } } }
    ? Content extends { 'application/json': infer Body }
      ? Body
      : string
    : never
  : any

/** A method for each address of READING. */
export type Reading = {
  [Name in keyof typeof READING]: (
    ...given: [...Names<(typeof READING)[Name]>, options?: Asked<(typeof READING)[Name]>]
  ) => Promise<Given<(typeof READING)[Name]>>
}

/** What a client is made with. */
export interface How {
  /** Address of the service; blank for the one that a page came from. */
  base?: string
  fetch?: typeof globalThis.fetch
  /** Milliseconds for each try. */
  timeout?: number
  /** How often to ask again where no answer came, or "not now". */
  retries?: number
  /** Most milliseconds before asking again; it doubles each time. */
  pause?: number
  /** What Accept-Language says. */
  language?: string
  /** How many answers to keep. */
  cacheSize?: number
  /** The key that may tell outcomes. */
  key?: string
}

/** How an address without a method of its own is asked. */
export interface Asking extends Stop {
  /** Media type of the answer, application/json where none is given. */
  accept?: string
  /** True where the answer names the revision it was computed from. */
  grounded?: boolean
}

export interface Question extends Asking {
  method: 'GET' | 'POST'
  /** Below the base, with its query. */
  address: string
  accept: string
  /** True where asking twice changes nothing. */
  repeatable?: boolean
  headers?: Record<string, string>
  body?: unknown
}

export interface Reply {
  status: number
  /** Media type without its parameters. */
  media: string
  text: string
  /** Blank where the answer is not to be kept. */
  etag: string
  /** Milliseconds that Retry-After asks for. */
  wait: number
}
