// Reads calendars with ical.js and tells as JSON what is wrong with each: node calendar.js [--again OLD NEW] FILE...
// --again takes a calendar and a later one of the same household: what is in both must come as the same event.
// KITMUSTER_BROWSER names the folder that has ical.js in its node_modules. Sections are those of RFC 5545. See README.md.
const fs = require('fs'), path = require('path')
const from = require('module').createRequire(path.resolve(process.env.KITMUSTER_BROWSER || '.', 'x.js'))
const ICAL = from('ical.js')

function octets(bytes, fault) { // 3.1: the lines as they stand in the file
  const lines = bytes.toString('latin1').split('\r\n')
  if (lines.pop() !== '') fault('lines', 'the last line does not end with CRLF')
  for (const [n, line] of lines.entries()) {
    if (line.length > 75) fault('lines', `line ${n + 1} has ${line.length} octets`)
    if (/[\x00-\x08\x0a-\x1f\x7f]/.test(line)) fault('lines', `line ${n + 1} holds a control character, or an end of line that is not CRLF`)
    try { new TextDecoder('utf-8', { fatal: true }).decode(Buffer.from(line, 'latin1')) } catch { fault('lines', `line ${n + 1} is no UTF-8 by itself`) }
  }
}
const unfolded = text => text.replace(/\r\n[ \t]/g, '').split('\r\n').filter(line => line)

function once(component, name, fault, what) { // a property that must be there, and not twice
  const all = component.getAllProperties(name)
  if (all.length !== 1 || !String(all[0].getFirstValue()).trim()) fault(name, `${what}: ${all.length} times, or empty`)
  return all[0]
}

const day = p => { const d = p.toJSON()[3], time = new Date(d); return !isNaN(time) && time.toISOString().slice(0, 10) === d } // 3.3.4

function event(e, uids, fault) {
  const title = String(e.getFirstPropertyValue('summary')), count = name => e.getAllProperties(name).length
  const [uid, stamp, start] = ['uid', 'dtstamp', 'dtstart', 'summary'].map(name => once(e, name, fault, title))
  if (uid && uids.includes(uid.getFirstValue())) fault('uid', `${title}: another event has it too`)
  uids.push(uid?.getFirstValue())
  if (stamp && (stamp.type !== 'date-time' || stamp.getFirstValue().zone !== ICAL.Timezone.utcTimezone)) fault('dtstamp', `${title}: not a time in UTC`) // 3.8.7.2
  if (start && (start.type !== 'date' || !day(start))) fault('dtstart', `${title}: not a day`)
  const end = e.getFirstProperty('dtend')
  if (end && start && (count('dtend') > 1 || end.type !== 'date' || !day(end) || end.getFirstValue().subtractDate(start.getFirstValue()).toSeconds() !== 86400)) fault('dtend', `${title}: not the day after it starts`) // 3.6.1: exclusive
  if (count('duration')) fault('duration', title)
  if (once(e, 'transp', fault, title)?.getFirstValue() !== 'TRANSPARENT') fault('transp', `${title}: takes up the day`)
  const alarms = e.getAllSubcomponents('valarm')
  if (!alarms.length) fault('valarm', `${title}: none`)
  for (const alarm of alarms) { // 3.6.6
    if (once(alarm, 'action', fault, title)?.getFirstValue() !== 'DISPLAY') fault('valarm', `${title}: does not display`)
    once(alarm, 'description', fault, title)
    const trigger = once(alarm, 'trigger', fault, title)
    if (trigger && (trigger.type !== 'duration' || trigger.getFirstValue().toSeconds() >= 0)) fault('trigger', `${title}: not before it starts`)
  }
  return { uid: uid?.getFirstValue(), title, start: String(start?.getFirstValue()) }
}

function read(file) {
  const say = { file, faults: [], uids: [] }, bytes = fs.readFileSync(file), fault = (check, what) => say.faults.push({ check, what, where: [] })
  octets(bytes, fault)
  let parsed
  try {
    parsed = ICAL.parse(bytes.toString())
    const calendar = new ICAL.Component(parsed), parts = calendar.getAllSubcomponents()
    if (calendar.name !== 'vcalendar' || Array.isArray(parsed[0])) fault('parse', 'not one VCALENDAR')
    once(calendar, 'prodid', fault, 'VCALENDAR')
    if (once(calendar, 'version', fault, 'VCALENDAR')?.getFirstValue() !== '2.0') fault('version', 'not 2.0')
    if (calendar.hasProperty('method')) fault('method', 'makes a file an invitation')
    if (!parts.length || parts.some(p => p.name !== 'vevent')) fault('parse', 'no event, or something else than events') // 3.6
    say.events = parts.filter(p => p.name === 'vevent').map(e => event(e, say.uids, fault))
    // What was read, written by the other program, is what stands there: escapes (3.3.11), parameters, order.
    const theirs = unfolded(ICAL.stringify(parsed) + '\r\n'), ours = unfolded(bytes.toString())
    for (const [n, line] of ours.entries()) if (line !== theirs[n]) { fault('text', `${line} comes back as ${theirs[n]}`); break }
  } catch (e) { fault('parse', e.message) }
  return say
}

// again imports one file and then the other, by UID, and looks for what is there twice.
function again(older, newer) {
  const say = { file: newer, faults: [] }, [before, after] = [older, newer].map(file => read(file).events || [])
  const calendar = new Map([...before, ...after].map(e => [e.uid, e])), only = (all, e) => all.filter(o => o.title === e.title).length === 1
  for (const e of after) for (const old of before) {
    if (old.title === e.title && old.uid !== e.uid && only(before, e) && only(after, e)) say.faults.push({ check: 'again', what: `${e.title} is there twice: ${old.uid} and ${e.uid}`, where: [] })
    if (old.uid === e.uid && calendar.get(e.uid) !== e) say.faults.push({ check: 'again', what: `${e.uid} is not renewed`, where: [] })
  }
  // Of things alike on one day, such as the bars of two pockets, as many as there were have to be the same ones.
  const alike = (all, e) => all.filter(o => o.title === e.title && o.start === e.start).map(o => o.uid).sort()
  for (const e of after) {
    const [was, is] = [alike(before, e), alike(after, e)]
    if (is[0] === e.uid && is.length > 1 && was.length === is.length && was.join() !== is.join()) say.faults.push({ check: 'again', what: `${e.title} is there twice: ${was} and ${is}`, where: [] })
  }
  if (!after.some(e => before.some(old => old.uid === e.uid))) say.faults.push({ check: 'again', what: 'nothing of the older calendar is in the newer one', where: [] })
  return say
}

const args = process.argv.slice(2), pair = args[0] === '--again' ? args.splice(0, 3).slice(1) : null
const out = [...(pair ? [again(...pair)] : []), ...args.map(read)]
console.log(JSON.stringify(out, null, 1))
process.exitCode = out.some(say => say.faults.length) ? 1 : 0 // not exit, which would cut off what a pipe has not taken yet
