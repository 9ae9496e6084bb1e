"""What runs in the worksheet: verdicts as ``judge.verdict`` gives them, keeping, and saving a readings file.

``window.worksheet`` holds the functions that give answers; a person does not need it, the tests do.
"""

SCRIPT = r"""
(function () {
  'use strict';
  var data = JSON.parse(document.getElementById('data').textContent);
  var KEY = 'harnesscheck worksheet ' + data.key;
  var NUMBER = /^([<>]?)\s*([+-]?(?:[0-9]{1,12}(?:\.[0-9]{0,9})?|\.[0-9]{1,9}))\s*(\S*)$/;
  var rows = [], state = { head: {}, values: {} }, kept = true, now = null;
  var byId = function (name) { return document.getElementById(name); };

  /* ---- what a typed value means ---- */

  /* {value, unit, bound}, or {fault} in words. Infinity is an open line. */
  function valueOf(text, unit) {
    var typed = text.trim(), found, own, meant, value;
    if (data.open.indexOf(typed.toLowerCase()) >= 0) { return { value: Infinity, unit: 'ohm', bound: '' }; }
    found = NUMBER.exec(typed);
    if (!found) {
      return { fault: /^[+-]?[0-9]+,[0-9]+/.test(typed) ? 'a decimal comma is not read: write a point' :
        'this is neither a number nor OL' };
    }
    own = found[3] || unit;
    if (own && !Object.prototype.hasOwnProperty.call(data.units, own)) {
      return { fault: 'unit ' + own + ' is not known here' };
    }
    meant = own ? data.units[own] : ['', 1];
    value = parseFloat(found[2]) * meant[1];
    if (meant[0] === 'ohm' && value < -0.5) {
      return { fault: 'a resistance is not below zero: null the leads, or the line is live' };
    }
    return { value: value, unit: meant[0], bound: found[1] };
  }

  function verdict(reading, typed, unit) {
    var said, low = reading.low, high = reading.high, least, most;
    if (!typed.trim()) { return ['not read', '']; }
    said = valueOf(typed, unit);
    if (said.fault) { return ['not understood', said.fault]; }
    if (said.unit !== reading.unit) { return ['not understood', 'this reading is in ' + reading.unit]; }
    if (low === null && high === null) { return ['noted', '']; }
    least = most = said.value;
    if (said.bound === '>') { most = Infinity; }
    if (said.bound === '<') { least = reading.unit === 'ohm' ? 0 : -Infinity; }
    if ((low === null || least >= low) && (high === null || most <= high)) { return ['good', '']; }
    if (said.bound && !((high !== null && least >= high) || (low !== null && most <= low))) {
      return ['unclear', 'this bound does not decide it: read it in another range'];
    }
    return ['wrong', reading.unit === 'V' ? 'Stop. Do not mate the plug. Find out why.' :
      'Stop. Clean the probes, read again; still wrong: note it and find out why.'];
  }

  /* Number keyboards of many phones have a comma and no point. 1,234 may be thousands: that is asked back. */
  function pointed(text) {
    var found = /^(\s*[<>]?\s*[+-]?)([0-9]*),([0-9]*)(.*)$/.exec(text);
    if (!found || /^[,.]/.test(found[4]) || (found[3].length === 3 && /[1-9]/.test(found[2]))) { return text; }
    return found[1] + (found[2] || '0') + '.' + found[3] + found[4];
  }

  /* ---- keeping ---- */

  function keep() {
    try { localStorage.setItem(KEY, JSON.stringify(state)); } catch (error) { kept = false; }
    byId('unkept').hidden = kept;
  }
  function recall() {
    var found;
    try { found = JSON.parse(localStorage.getItem(KEY)); } catch (error) { found = null; }
    if (found && found.head instanceof Object && found.values instanceof Object) { state = found; }
  }

  /* ---- one row ---- */

  function entry(row) {
    var id = row.reading.id;
    if (!state.values[id]) { state.values[id] = { value: '', unit: row.unit.options[0].value, note: '' }; }
    return state.values[id];
  }
  function judge(row) {
    var said = verdict(row.reading, pointed(row.value.value), row.unit.value), word = said[0];
    var look = { 'not read': 'unread', 'not understood': 'odd', unclear: 'odd' }[word] || word;
    row.word = word;
    row.box.className = 'row ' + look + (row === now ? ' now' : '');
    row.said.textContent = word;
    row.why.textContent = said[1];
    row.value.setAttribute('aria-invalid', String(look === 'wrong' || look === 'odd'));
  }
  function typed(row) {
    var to = entry(row);
    to.value = pointed(row.value.value).trim();
    to.unit = row.unit.value;
    to.note = row.note.value;
    judge(row);
    total();
    keep();
  }
  function total() {
    var wrong = 0, done = 0, odd = 0, line = byId('count');
    data.groups.forEach(function (group) {
      var mine = rows.filter(function (row) { return row.group === group.name; });
      var read = mine.filter(function (row) { return ['good', 'wrong', 'noted'].indexOf(row.word) >= 0; }).length;
      var bad = mine.filter(function (row) { return row.word === 'wrong'; }).length;
      odd += mine.filter(function (row) { return ['unclear', 'not understood'].indexOf(row.word) >= 0; }).length;
      done += read;
      wrong += bad;
      document.querySelector('nav [data-group="' + group.name + '"] .tally').textContent =
        read + ' of ' + mine.length + (bad ? ', ' + bad + ' wrong' : '');
    });
    byId('progress').value = done;
    line.textContent = done + ' of ' + rows.length + ' read' + (wrong ? ', ' + wrong + ' WRONG' : '');
    line.className = wrong ? 'wrong' : '';
    byId('left').textContent = (done < rows.length ? rows.length - done + ' not read yet. ' : 'All read. ') +
      (wrong ? wrong + ' wrong. ' : '') + (odd ? 'Not clear: ' + odd + '. ' : '') +
      'What cannot be read as a value is saved as a note.';
    byId('out').hidden = true;
  }

  /* ---- the open row and its faces ---- */

  var faces = {}, cavities = {};
  document.querySelectorAll('.face').forEach(function (face) {
    faces[face.dataset.ref] = face;
    face.querySelectorAll('[data-cavity]').forEach(function (cavity) { cavities[cavity.dataset.cavity] = cavity; });
  });
  function open(row) {
    if (now === row) { return; }
    if (now) { now.box.classList.remove('now'); }
    now = row;
    row.box.classList.add('now');
    document.querySelectorAll('.at-a, .at-b').forEach(function (old) { old.classList.remove('at-a', 'at-b'); });
    Object.keys(faces).forEach(function (ref) { byId('shelf').appendChild(faces[ref]); });
    [['a', 'at-a'], ['b', 'at-b']].forEach(function (lead) {
      row.reading[lead[0]].forEach(function (point) {
        if (faces[point[0]]) { row.faces.appendChild(faces[point[0]]); }
        if (cavities[point[1]]) { cavities[point[1]].classList.add(lead[1]); }
      });
    });
  }
  function show(row) {
    open(row);
    row.value.focus({ preventScroll: true });
    row.box.scrollIntoView({ block: 'start' });
  }
  function after(row, step) {
    var next = rows[rows.indexOf(row) + step];
    if (next) { show(next); } else if (step > 0) { byId('save').scrollIntoView(); byId('save-csv').focus(); }
  }
  function unread() {
    var from = now ? rows.indexOf(now) + 1 : 0;
    var order = rows.slice(from).concat(rows.slice(0, from));
    var next = order.find(function (row) { return ['not read', 'unclear', 'not understood'].indexOf(row.word) >= 0; });
    if (next) { show(next); } else { byId('save').scrollIntoView(); }
  }
  function bind(group, reading) {
    var box = document.querySelector('[data-id="' + reading.id + '"]');
    var part = function (name) { return box.querySelector('.' + name); };
    var row = { group: group.name, reading: reading, box: box, value: part('value'), unit: part('unit'),
      note: part('note'), said: part('verdict'), why: part('said'), faces: part('faces'), word: 'not read' };
    var old = state.values[reading.id];
    if (old) {
      row.value.value = old.value || '';
      row.note.value = old.note || '';
      if (row.unit.querySelector('option[value="' + old.unit + '"]')) { row.unit.value = old.unit; }
    }
    rows.push(row);
    judge(row);
    box.addEventListener('focusin', function () { open(row); });
    box.addEventListener('click', function (event) {
      if (!event.target.closest('input,select,button')) { show(row); }
    });
    row.value.addEventListener('input', function () { typed(row); });
    row.value.addEventListener('change', function () {
      row.value.value = pointed(row.value.value).trim();
      typed(row);
    });
    row.unit.addEventListener('change', function () { typed(row); });
    row.note.addEventListener('input', function () { typed(row); });
    [row.value, row.note].forEach(function (field) {
      field.addEventListener('keydown', function (event) {
        if (event.key !== 'Enter' || event.isComposing) { return; }
        event.preventDefault();
        after(row, event.shiftKey ? -1 : 1);
      });
    });
    part('next').addEventListener('click', function () { after(row, 1); });
    if (part('ol')) { part('ol').addEventListener('click', function () { row.value.value = 'OL'; typed(row); }); }
  }

  /* ---- the readings file ---- */

  function line(text) { return String(text || '').replace(/[\p{C}\p{Z}]+/gu, ' ').trim(); }
  function taken() {
    var out = [];
    rows.forEach(function (row) {
      var from = state.values[row.reading.id], value, note, odd;
      if (!from) { return; }
      value = line(from.value);
      note = line(from.note);
      odd = value && valueOf(value, from.unit).fault || (value && row.word === 'not understood');
      if (odd) { note = line('typed: ' + value + ' ' + from.unit + '; ' + note).replace(/;$/, ''); value = ''; }
      if (value || note) {
        out.push({ reading: row.reading.id, value: value, unit: value ? from.unit : '', verdict: '', note: note,
          article: row.reading.article });
      }
    });
    return out;
  }
  function head(list) {
    var said = {}, seen = new Set(list.map(function (row) { return row.article; }));
    data.keys.forEach(function (key) {
      var text = line([data.head[key], state.head[key]].filter(Boolean).join('; '));
      if (key === 'article' && seen.size === 1) { text = list[0].article; }
      if (text) { said[key] = text; }
    });
    return said;
  }
  function asCsv() {
    var list = taken(), said = head(list);
    var cell = function (text) { return /[",;]/.test(text) ? '"' + text.replace(/"/g, '""') + '"' : text; };
    var lines = Object.keys(said).map(function (key) { return key + ',' + cell(said[key]); });
    lines.push(data.rows.join(','));
    list.forEach(function (row) { lines.push(data.rows.map(function (key) { return cell(row[key]); }).join(',')); });
    return lines.join('\r\n') + '\r\n';
  }
  function asJson() {
    var list = taken(), said = head(list);
    said.readings = list.map(function (row) {
      var out = {};
      data.rows.forEach(function (key) { if (row[key]) { out[key] = row[key]; } });
      return out;
    });
    return JSON.stringify(said, null, 1) + '\n';
  }
  function save(text, suffix, type) {
    var day = /^[0-9-]{10}$/.test(state.head.date || '') ? '-' + state.head.date : '';
    var link = document.createElement('a');
    link.download = 'readings-' + data.stem.replace(/[^A-Za-z0-9.-]/g, '-') + day + suffix;
    link.href = URL.createObjectURL(new Blob([text], { type: type }));
    link.click();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 60000);
    byId('saved').textContent = link.download + ' is with your downloads. Nothing there? Show it as text and copy it.';
  }

  /* ---- start ---- */

  recall();
  document.querySelectorAll('[data-head]').forEach(function (field) {
    field.value = state.head[field.dataset.head] || '';
    field.addEventListener('input', function () { state.head[field.dataset.head] = field.value; keep(); });
  });
  data.groups.forEach(function (group) { group.readings.forEach(function (reading) { bind(group, reading); }); });
  document.body.classList.add('ready');
  byId('bar').hidden = false;
  total();
  keep();
  byId('onward').addEventListener('click', unread);
  byId('save-csv').addEventListener('click', function () { save(asCsv(), '.csv', 'text/csv'); });
  byId('save-json').addEventListener('click', function () { save(asJson(), '.json', 'application/json'); });
  byId('save-text').addEventListener('click', function () {
    var out = byId('out');
    out.value = asCsv();
    out.hidden = false;
    out.focus();
    out.select();
  });
  byId('clear').addEventListener('click', function () { byId('sure').hidden = false; byId('keep').focus(); });
  byId('keep').addEventListener('click', function () { byId('sure').hidden = true; byId('clear').focus(); });
  byId('cleared').addEventListener('click', function () {
    state.values = {};
    rows.forEach(function (row) {
      row.value.value = row.note.value = '';
      row.unit.selectedIndex = 0;
      judge(row);
    });
    byId('sure').hidden = true;
    total();
    keep();
    byId('saved').textContent = 'All readings and notes are cleared.';
  });
  window.worksheet = { verdict: verdict, pointed: pointed, asCsv: asCsv, asJson: asJson };
}());
"""
