/**
 * Writes types.d.ts from shared/openapi.json: `npm run types`. Example answers are left out, so that the types change
 * with the contract alone. With `--print` they are printed instead.
 */
import { readFile, writeFile } from 'node:fs/promises'
import openapiTS, { astToString } from 'openapi-typescript'

const HEAD = '// Generated from shared/openapi.json by `npm run types` in clients/javascript. Not to be edited.\n\n'

const described = await readFile(new URL('../../../shared/openapi.json', import.meta.url), 'utf8')
const bare = JSON.parse(described, (_, value) => (value?.schema && value.example ? { schema: value.schema } : value))
const types = HEAD + astToString(await openapiTS(bare))
if (process.argv.includes('--print')) process.stdout.write(types)
else await writeFile(new URL('../types.d.ts', import.meta.url), types)
