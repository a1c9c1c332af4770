// Holds SARIF files against the published schema: node sarif.js FOLDER FILE...
// FOLDER has ajv-draft-04, ajv-formats and @microsoft/jest-sarif in its node_modules.
const fs = require('fs')
const path = require('path')
const from = require('module').createRequire(path.resolve(process.argv[2], 'x.js'))
const Ajv = from('ajv-draft-04')
const home = path.dirname(from.resolve('@microsoft/jest-sarif/package.json'))
const schema = JSON.parse(fs.readFileSync(path.join(home, 'lib/schemas/sarif-2.1.0-rtm.5.json')))
// One pattern of the schema is no Unicode pattern, and some of its keywords are unknown to ajv.
const ajv = new Ajv({ strict: false, allErrors: true, unicodeRegExp: false })
from('ajv-formats')(ajv)
const valid = ajv.compile(schema)
let code = 0
for (const file of process.argv.slice(3)) {
  if (valid(JSON.parse(fs.readFileSync(file, 'utf8')))) continue
  code = 1
  for (const e of valid.errors.slice(0, 8)) console.log(file, e.instancePath, e.message, JSON.stringify(e.params))
}
process.exit(code)
