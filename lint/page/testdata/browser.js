// Opens HTML files in headless Chromium, cut off from the network, and tells as JSON what is wrong with each:
// node browser.js [--widths 320,360,…] [--light] [--time] [--shots DIR] FILE...
// KITMUSTER_BROWSER names the folder that has playwright-core and axe-core in its node_modules. See README.md.
const fs = require('fs'), os = require('os'), path = require('path'), { execFileSync } = require('child_process')
const from = require('module').createRequire(path.resolve(process.env.KITMUSTER_BROWSER || '.', 'x.js'))
const { chromium } = from('playwright-core')
const axe = fs.readFileSync(from.resolve('axe-core/axe.min.js'), 'utf8')
const inPage = fs.readFileSync(path.join(__dirname, 'inpage.js'), 'utf8')
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

const option = { widths: [320, 360, 768, 1024, 1280, 1600] }, files = []
for (let args = process.argv.slice(2); args.length;) {
  const arg = args.shift()
  if (arg === '--widths') option.widths = args.shift().split(',').map(Number)
  else if (arg === '--shots') option.shots = args.shift()
  else if (arg === '--light' || arg === '--time') option[arg.slice(2)] = true
  else if (arg.startsWith('-')) { console.error(`browser.js: there is no ${arg}`); process.exit(2) } else files.push(arg)
}

// A seat is a tab in which one file after another is opened: making one takes longer than most checks. No page keeps anything that
// the next could find.
async function seat(browser, context = {}) {
  const page = await (await browser.newContext({ offline: true, ...context })).newPage()
  await page.context().addInitScript(inPage)
  return { page, cdp: await page.context().newCDPSession(page) }
}

// fresh opens a file as a browser that nobody has set in any way. What it says, asks for or opens by itself is a fault.
async function fresh({ page, cdp }, file, fault, colorScheme = 'light') {
  for (const event of ['console', 'pageerror', 'request', 'dialog']) page.removeAllListeners(event)
  await page.goto('about:blank')
  await cdp.send('Page.setFontSizes', { fontSizes: { standard: 16, fixed: 13 } })
  await page.emulateMedia({ media: null, colorScheme, forcedColors: 'none', reducedMotion: 'no-preference' })
  await page.setViewportSize({ width: 1280, height: 800 })
  const url = 'file://' + path.resolve(file)
  page.on('console', m => fault('console', `${m.type()}: ${m.text()}`))
  page.on('pageerror', e => fault('error', e.message))
  page.on('request', r => r.url() === url || fault('request', r.url()))
  page.on('dialog', d => { fault('dialog', `${d.type()}: ${d.message()}`); d.dismiss() })
  await page.goto(url, { timeout: 120000 })
  return page
}

// look tells what is wrong with a page as it stands there now.
async function look(page, fault, unsure) {
  for (const [check, what] of await page.evaluate(light => [...proof.scroll(), ...(light ? [] : proof.layout())], !!option.light)) fault(check, what)
  if (option.light) return
  const r = await page.evaluate(tags => axe.run(document, { runOnly: tags, resultTypes: ['violations', 'incomplete'], preload: false }), tags)
  for (const v of r.violations) fault('axe', `${v.id}: ${v.help} (${v.nodes.length}): ${v.nodes[0].target.join(' ')}: ${v.nodes[0].html.slice(0, 120)}`)
  for (const v of r.incomplete) for (const n of v.nodes) unsure(`${v.id}: ${n.target.join(' ')}`)
  for (const [check, what] of await page.evaluate(() => proof.contrast())) check === 'unsure' ? unsure(what) : fault(check, what)
}

// choose takes each choice of each box of class order. Rows name in data-o what they are ordered by: a figure for each choice after the
// first, the least first, - where it is not known; the first choice is the order of the page.
async function choose(page, fault) {
  const boxes = await page.$$('.order select')
  const rows = () => page.$$eval('[data-o]', all => all.map(r => ({ key: r.dataset.o.split(' ').map(v => v === '-' ? Infinity : Number(v)), text: r.textContent })))
  const texts = all => all.map(r => r.text), before = await rows()
  if (!boxes.length && before.length > 2) fault('sort', 'rows have what they may be ordered by, and nothing orders them')
  for (const box of boxes) {
    const names = await box.$$eval('option', all => all.map(o => o.textContent))
    for (const [n, name] of [...names.entries()].slice(1)) {
      await box.selectOption({ index: n })
      const now = await rows()
      if (texts(now).sort().join('\n') !== texts(before).sort().join('\n')) fault('sort', `${name}: ${before.length} rows before, ${now.length} after, or not the same ones`)
      if (now.some((r, k) => k && r.key[n - 1] < now[k - 1].key[n - 1])) fault('sort', `${name}: the rows are not in that order`)
    }
    await box.selectOption({ index: 0 })
    if (texts(await rows()).join('\n') !== texts(before).join('\n')) fault('sort', `${names[0]}: not the order of the page`)
  }
}

// print makes a PDF in which each row and each element of class whole has a mark at its begin and its ends, reads the marks
// back page by page, and demands that those of one thing stand on one page.
async function print(seat, file, fault, say) {
  const pdf = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'print-')), 'page.pdf')
  for (const [format, width, height] of [['A4', 794, 1123], ['Letter', 816, 1056]]) {
    const page = await fresh(seat, file, () => {}), sheet = path => page.pdf({ path, format, printBackground: true, margin })
    if (option.shots) await sheet(shot(file, `print-${format}.pdf`))
    await page.emulateMedia({ media: 'print' })
    await page.setViewportSize({ width: width - 91, height }) // as wide as what is printed between the margins, so that what shows there is marked, and nothing else
    const things = await page.evaluate(() => proof.mark()), taller = await page.evaluate(height => proof.taller(height), height)
    await sheet(pdf)
    const pages = execFileSync('pdftotext', ['-raw', pdf, '-'], { maxBuffer: 1 << 30 }).toString().split('\f').slice(0, -1)
    const on = {}
    for (const [n, text] of pages.entries()) for (const [token] of text.matchAll(/zq\d+[be]\d*q/g)) (on[token] ||= new Set()).add(n + 1)
    say.print = { ...say.print, [format]: pages.length }
    for (const [n, thing] of things.entries()) {
      const at = thing.tokens.map(token => [...on[token] || []].join('+') || 'none')
      if (at.includes('none')) fault('print', `${format}: cannot find where this begins or ends: ${thing.what}`)
      else if (!taller[n] && (new Set(at).size > 1 || (at[0].includes('+') && !thing.repeats))) fault('print', `${format}: split over pages ${[...new Set(at)].join(', ')}: ${thing.what}`)
    }
  }
  fs.rmSync(path.dirname(pdf), { recursive: true })
}
const margin = { top: '12mm', bottom: '12mm', left: '12mm', right: '12mm' } // where the page's own @page says none
const shot = (file, what) => path.join(option.shots, [path.basename(path.dirname(path.resolve(file))), path.basename(file, '.html'), what].join('-'))

// time opens a file so many times and gives the medians, in milliseconds from the start of the navigation.
async function time(browser, file, times) {
  const all = []
  for (let n = 0; n < times; n++) {
    const page = await fresh(await seat(browser), file, () => {})
    all.push(await page.evaluate(() => proof.time()))
    await page.context().close()
  }
  return rounded(Object.fromEntries(Object.keys(all[0]).map(k => [k, all.map(t => t[k]).sort((a, b) => a - b)[times >> 1]])))
}
const rounded = time => Object.fromEntries(Object.entries(time).map(([k, v]) => [k, Math.round(v)]))

// modes looks at an open page of the usual width as people have it who set their browser in other ways.
async function modes({ page, cdp }, colorScheme, file, fault, unsure) {
  const mode = async (name, media) => {
    await page.emulateMedia(media)
    await look(page, fault(`${colorScheme}, ${name}`), unsure)
    if (option.shots) await page.screenshot({ path: shot(file, `${colorScheme}-${name.replace(/ /g, '-')}.png`), fullPage: true })
  }
  await page.setViewportSize({ width: 1280, height: 800 })
  await mode('forced colours', { forcedColors: 'active' })
  await page.emulateMedia({ forcedColors: 'none', reducedMotion: 'reduce' })
  for (const what of await page.evaluate(() => proof.moving())) fault(`${colorScheme}, reduced motion`)('motion', what)
  await mode('reduced motion', {})
  if (colorScheme === 'dark') return
  await page.evaluate(() => proof.sizes())
  // The size of letters that people set in their browser, doubled: WCAG 2.2, 1.4.4.
  await cdp.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } })
  for (const what of await page.evaluate(() => proof.grown())) fault('large text')('text', what)
  await mode('large text', {})
}

async function check(browser, { scripts, bare: none }, file) {
  const say = { file, faults: [], unsure: [] }, found = new Map(), doubts = new Set()
  const fault = where => (check, what) => {
    const key = `${check}\n${what}`
    if (!found.has(key)) say.faults.push(found.set(key, { check, what, where: [] }).get(key))
    if (!found.get(key).where.includes(where)) found.get(key).where.push(where)
  }
  const unsure = what => doubts.add(what)
  if (option.time) return { ...say, time: await time(browser, file, 5) }
  for (const colorScheme of ['light', 'dark']) {
    const page = await fresh(scripts, file, fault(colorScheme), colorScheme)
    say.time ||= rounded(await page.evaluate(() => proof.time()))
    if (!option.light) {
      await page.evaluate(() => proof.unskip())
      await page.evaluate(axe)
    }
    for (const width of option.widths) {
      await page.setViewportSize({ width, height: 800 })
      await look(page, fault(`${colorScheme} ${width}`), unsure)
      if (option.shots && [320, 1600].includes(width)) await page.screenshot({ path: shot(file, `${colorScheme}-${width}.png`), fullPage: true })
    }
    if (!option.light) await modes(scripts, colorScheme, file, fault, unsure)
    for (const what of await page.evaluate(() => proof.policy())) fault(colorScheme)('csp', what)
  }
  say.unsure = [...doubts]
  if (option.light) return say
  const scripted = await fresh(scripts, file, fault('script')), bare = await fresh(none, file, fault('no script'))
  await bare.evaluate(inPage)
  const text = await scripted.evaluate(() => proof.text()), without = new Set(await bare.evaluate(() => proof.text()))
  say.words = text.join(' ').split(' ').length
  for (const line of text) if (!without.has(line)) fault('no script')('script', `not readable: ${line.slice(0, 100)}`)
  for (const [check, what] of await bare.evaluate(() => [...proof.scroll(), ...proof.layout()])) fault('no script')(check, what)
  await choose(scripted, fault('script'))
  await print(scripts, file, fault('print'), say)
  return say
}

(async () => {
  if (option.shots) fs.mkdirSync(option.shots, { recursive: true })
  const executablePath = process.env.CHROMIUM || execFileSync('sh', ['-c', 'command -v chromium']).toString().trim()
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update', '--disable-sync'] })
  const out = [], queue = [...files.entries()]
  const work = async () => {
    const seats = { scripts: await seat(browser), bare: await seat(browser, { javaScriptEnabled: false }) }
    for (let next; (next = queue.shift());) out[next[0]] = await check(browser, seats, next[1])
  }
  await Promise.all(option.time ? [work()] : [work(), work()])
  await browser.close()
  console.log(JSON.stringify(out, null, 1))
  process.exitCode = out.some(say => say.faults.length) ? 1 : 0 // not exit, which would cut off what a pipe has not taken yet
})().catch(e => { console.error(e); process.exit(2) })
