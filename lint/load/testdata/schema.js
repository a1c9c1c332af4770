// Holds the JSON Schema of kits against files: node schema.js FOLDER SCHEMA GOOD BAD
// FOLDER has ajv in its node_modules. Every file in GOOD must fit, none in BAD may.
const fs = require('fs')
const path = require('path')
const from = require('module').createRequire(path.resolve(process.argv[2], 'x.js'))
const Ajv = from('ajv/dist/2020').default
const valid = new Ajv({ strict: true, allErrors: true }).compile(JSON.parse(fs.readFileSync(process.argv[3], 'utf8')))
let code = 0
const each = (folder, look) => {
  const files = fs.readdirSync(folder).sort()
  console.log(files.length, 'files in', path.basename(folder))
  for (const file of files) look(file, valid(JSON.parse(fs.readFileSync(path.join(folder, file), 'utf8'))))
}
each(process.argv[4], (file, fits) => {
  if (fits) return
  code = 1
  for (const e of valid.errors.slice(0, 8)) console.log(file, e.instancePath, e.message, JSON.stringify(e.params))
})
each(process.argv[5], (file, fits) => {
  if (!fits) return
  code = 1
  console.log(file, 'fits, and should not')
})
process.exit(code)
