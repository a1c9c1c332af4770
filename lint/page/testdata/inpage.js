// What browser.js asks of a page, from inside. It is there before the page's own scripts.
globalThis.proof = (() => {
  const violations = [] // of the page's content security policy
  addEventListener('securitypolicyviolation', e => violations.push(`${e.effectiveDirective} blocks ${e.blockedURI} ${e.sample}`.trim()))
  const policy = () => document.querySelector('meta[http-equiv="Content-Security-Policy"]') ? violations : ['the page has no policy', ...violations]
  let opened = 0 // when load was done and a frame stood on the screen
  addEventListener('load', () => requestAnimationFrame(() => setTimeout(() => { opened = performance.now() })))

  const name = e => `<${e.localName}${e.id ? '#' + e.id : ''}${[...e.classList].map(c => '.' + c).join('')}> ${e.textContent.replace(/\s+/g, ' ').trim().slice(0, 60)}`
  const seen = e => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().width > 1
  const frame = () => new Promise(done => requestAnimationFrame(() => setTimeout(done)))

  async function time() {
    while (!opened) await frame()
    const load = performance.getEntriesByType('navigation')[0].loadEventEnd, nodes = document.querySelectorAll('*').length
    const start = performance.now()
    scrollTo(0, document.documentElement.scrollHeight)
    await frame()
    return { load, opened, jump: performance.now() - start, nodes }
  }

  // A browser lays out what is skipped (content-visibility) when it comes into view, and cuts off what is too wide there.
  const all = new CSSStyleSheet()
  const unskip = () => { all.replaceSync('* { content-visibility: visible !important }'); document.adoptedStyleSheets.push(all) }

  function scroll() { // of the page, sideways
    const root = document.documentElement, wide = root.clientWidth
    if (root.scrollWidth <= wide) return []
    const scrolls = e => e && e !== document.body && e !== root && (getComputedStyle(e).overflowX !== 'visible' || scrolls(e.parentElement))
    const over = [...document.body.querySelectorAll('*')].find(e => e.getBoundingClientRect().right > wide + 1 && !scrolls(e.parentElement))
    return [['scroll', `the page is ${root.scrollWidth} wide in ${wide}: ${over ? name(over) : '?'}`]]
  }

  function layout() { // text cut off in its box, drawings whose letters come out too small
    const out = []
    for (const e of document.body.querySelectorAll('*')) {
      const { overflowX, overflowY } = getComputedStyle(e), hidden = /hidden|clip/
      const cut = (hidden.test(overflowX) && e.scrollWidth > e.clientWidth + 1) || (hidden.test(overflowY) && e.scrollHeight > e.clientHeight + 1)
      if (cut && !e.closest('svg') && seen(e) && e.innerText.trim()) out.push(['cut', `text does not fit its box: ${name(e)}`])
    }
    // Letters below 10 px: common practice, no source.
    for (const e of document.querySelectorAll('svg text')) if (seen(e) && size(e) < 10) out.push(['small', `letters ${size(e).toFixed(1)} px high: ${name(e)}`])
    return out
  }
  function size(e) { // of letters as they come out on the screen
    const m = e.getScreenCTM?.()
    return parseFloat(getComputedStyle(e).fontSize) * (m ? Math.sqrt(Math.abs(m.a * m.d - m.b * m.c)) : 1)
  }

  const moving = () => document.getAnimations().filter(a => a.playState === 'running' && a.effect.getComputedTiming().duration > 1).map(a => `moves although less motion is asked for: ${name(a.effect.target)}`)
  const worded = () => [...document.body.querySelectorAll('*')].filter(e => seen(e) && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
  const sizes = () => { for (const e of worded()) e.proofSize = size(e) }
  const grown = () => worded().filter(e => e.proofSize && size(e) < 1.9 * e.proofSize).map(e => `${e.proofSize} px become ${size(e).toFixed(1)}: ${name(e)}`).slice(0, 5)

  // What can be read, controls aside, with everything unfolded: pieces of text in order.
  function text() {
    const out = [], shut = [...document.querySelectorAll('details:not([open])')]
    for (const d of shut) d.open = true
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
    for (let n; (n = walk.nextNode());) {
      const e = n.parentElement, words = n.data.replace(/\s+/g, ' ').trim()
      if (words && e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && !e.closest('button,label,select,output,[role=status],script,style,noscript,svg title,svg desc')) out.push(words)
    }
    for (const d of shut) d.open = false
    return out
  }

  // What must not be split in print. taller tells of each whether it is taller than a sheet, and so may be.
  const whole = () => [...document.querySelectorAll('tr, .whole')].filter(e => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().height > 0)
  let marked = []
  function taller(sheet) {
    const rules = [...document.styleSheets].filter(s => !s.href).flatMap(s => [...s.cssRules]).flatMap(r => r instanceof CSSMediaRule ? [...r.cssRules] : [r])
    const probe = document.body.appendChild(document.createElement('div'))
    probe.style.margin = rules.findLast(r => r instanceof CSSPageRule && !r.selectorText)?.style.margin || '12mm'
    const { marginTop, marginBottom } = getComputedStyle(probe), room = sheet - parseFloat(marginTop) - parseFloat(marginBottom)
    probe.remove()
    return marked.map(e => e.getBoundingClientRect().height > room)
  }

  // mark puts small letters at the begin and the end of each. A row ends where each of its cells ends, but for cells that reach
  // into the next row; the rows of a table's head stand on every page again.
  function mark() {
    const put = (e, end, token) => {
      const into = e => /flex|grid|table(?!-c)/.test(getComputedStyle(e).display) || /^(ul|ol|dl|details)$/.test(e.localName)
      while (into(e)) {
        const next = [...e.children].filter(c => c.checkVisibility() && !c.closest('svg') && c.getBoundingClientRect().height > 0).at(end ? -1 : 0)
        if (!next) break
        e = next
      }
      const s = document.createElement('span')
      s.textContent = token
      s.style.cssText = 'font:1px/0 monospace;letter-spacing:0;text-transform:none;white-space:nowrap;color:#888'
      end ? e.append(s) : e.prepend(s)
      return token
    }
    marked = whole()
    return marked.map((e, n) => {
      const what = name(e), cells = e.localName === 'tr' ? [...e.cells].filter(c => c.rowSpan === 1 && c.checkVisibility()) : [e]
      const tokens = [...cells.map((c, i) => put(c, false, `zq${n}b${i}q`)), ...cells.map((c, i) => put(c, true, `zq${n}e${i}q`))]
      return { what, tokens, repeats: !!e.closest('thead, tfoot') }
    })
  }

  // Contrast as WCAG 2.2 defines it (relative luminance, contrast ratio): letters in drawings 4.5:1, large ones 3:1 (1.4.3), which axe
  // leaves open, and what carries class mark 3:1 (1.4.11), each against what is painted below it.
  const brush = document.createElement('canvas').getContext('2d', { willReadFrequently: true }), known = {}
  function rgba(colour) {
    if (known[colour] !== undefined) return known[colour]
    if (!colour || /url|context/.test(colour)) return (known[colour] = null)
    brush.clearRect(0, 0, 1, 1)
    brush.fillStyle = colour === 'none' ? 'transparent' : colour
    brush.fillRect(0, 0, 1, 1)
    const [r, g, b, a] = brush.getImageData(0, 0, 1, 1).data
    return (known[colour] = [r, g, b, a / 255])
  }
  const over = ([r, g, b, a], [x, y, z]) => [r * a + x * (1 - a), g * a + y * (1 - a), b * a + z * (1 - a), 1]
  const luminance = c => c.slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4).reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0)
  const ratio = (a, b) => { const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05) }
  function see(e, colour, alpha) { // a colour as it comes through the opacity of what holds it
    const c = rgba(colour)
    for (let up = e; c && up; up = up.parentElement) alpha *= getComputedStyle(up).opacity
    return c && [c[0], c[1], c[2], c[3] * alpha]
  }
  function paint(e, x, y) { // what e itself paints at a place of the screen
    const s = getComputedStyle(e)
    if (!(e instanceof SVGElement) || e.localName === 'svg') return see(e, s.backgroundColor, 1)
    if (!(e instanceof SVGGeometryElement)) return [0, 0, 0, 0]
    const p = new DOMPoint(x, y).matrixTransform(e.getScreenCTM().inverse())
    if (s.stroke !== 'none' && e.isPointInStroke(p)) return see(e, s.stroke, s.strokeOpacity)
    return e.isPointInFill(p) ? see(e, s.fill, s.fillOpacity) : [0, 0, 0, 0]
  }
  function ground(e, x, y) { // what is painted below e
    const layers = document.elementsFromPoint(x, y).filter(b => b !== e && !e.contains(b) && b.compareDocumentPosition(e) & Node.DOCUMENT_POSITION_FOLLOWING).map(b => paint(b, x, y))
    if (layers.includes(null)) return null
    const probe = document.body.appendChild(document.createElement('i'))
    probe.style.cssText = 'background:Canvas;forced-color-adjust:none'
    const canvas = rgba(getComputedStyle(probe).backgroundColor)
    probe.remove()
    return layers.reverse().reduce((below, layer) => over(layer, below), canvas)
  }
  function contrast() {
    const out = [], style = new CSSStyleSheet()
    style.replaceSync('* { pointer-events: auto !important } svg * { pointer-events: all !important }') // so that elementsFromPoint leaves nothing out
    document.adoptedStyleSheets.push(style)
    for (const e of document.querySelectorAll('svg text, .mark')) {
      if (!e.checkVisibility({ visibilityProperty: true })) continue
      e.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' })
      const s = getComputedStyle(e), b = e.getBoundingClientRect(), letters = e.localName === 'text'
      let at = [0.02, 0.5, 0.98].map(f => [b.left + f * b.width, b.top + b.height / 2])
      if (!letters && e instanceof SVGGeometryElement) at = [...Array(9).keys()].map(i => e.getPointAtLength(i / 9 * e.getTotalLength()).matrixTransform(e.getScreenCTM())).map(p => [p.x, p.y])
      const own = e instanceof SVGElement ? [see(e, e.localName === 'line' ? 'none' : s.fill, s.fillOpacity), ...(letters ? [] : [see(e, s.stroke, parseFloat(s.strokeWidth) > 0 ? s.strokeOpacity : 0)])] : [see(e, s.backgroundColor, 1), ...(parseFloat(s.borderTopWidth) > 0 ? [see(e, s.borderTopColor, 1)] : [])]
      const grounds = at.filter(([x, y]) => x >= 0 && y >= 0 && x < innerWidth && y < innerHeight).map(([x, y]) => ground(e, x, y))
      if (own.includes(null) || grounds.includes(null) || !grounds.length) { out.push(['unsure', `contrast of ${name(e)}: a pattern, or not on the screen`]); continue }
      const large = size(e) >= 24 || (size(e) >= 18.66 && s.fontWeight >= 700), least = letters && !large ? 4.5 : 3
      const worst = Math.min(...grounds.map(g => Math.max(...own.map(c => ratio(over(c, g), g)))))
      if (worst < least) out.push(['contrast', `${worst.toFixed(2)}:1 where ${least}:1 is asked for: ${name(e)}`])
    }
    document.adoptedStyleSheets.pop()
    scrollTo(0, 0)
    return out
  }
  return { policy, time, unskip, scroll, layout, moving, sizes, grown, text, mark, taller, contrast }
})()
