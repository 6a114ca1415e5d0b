// What a place says: by pointer, tap or arrow keys.
const Reading = (() => {
  // The pools that are there at a moment and reach into a part, and what could feed them.
  function waysTo(part, time) {
    const names = new Set();
    for (const pool of ANSWER.pools)
      if (pool.begins_s <= time && time < pool.ends_s && pool.parts.includes(part.name)) pool.fed_by.forEach(n => names.add(n));
    return [...names];
  }

  function fedWords(sheet, i, j, time) {
    const part = sheet.part(i, j);
    if (!part.poured) return 'no metal';
    if (part.role === 'feeder') return 'it is a feeder itself';
    const closes = sheet.value('closing_time_s', i, j), cut = sheet.value('cut_off_time_s', i, j);
    if (closes === null) return 'it never closed';
    if (time >= closes) {
      const unfed = sheet.value('unfed_time_s', i, j);
      return unfed > 0 ? `closed; unfed for its last ${Words.seconds(unfed)}` : 'closed; it was fed until then';
    }
    if (cut === null || time >= cut) return 'nobody: no liquid way to a feeder';
    const names = waysTo(part, time);
    return `${names.length > 0 ? names.join(' or ') : 'a liquid way to a feeder'}, until ${Words.seconds(cut)}`;
  }

  function rows() {
    const sheet = Sheets[State.sheet], { i, j } = State.cursor, map = Words.mapNamed(State.map);
    const part = sheet.part(i, j), time = Times[State.frame];
    const solid = sheet.value('solid', i, j), freezes = sheet.value('freeze_time_s', i, j);
    const list = [
      ['place', 'Place', sheet.placeWords(i, j)],
      ['part', 'Part', part.role === 'sand' ? part.name : `${part.name} (${part.role})`],
      ['temperature', `Temperature at ${Words.seconds(time)}`, Words.withUnit(sheet.value('temperature', i, j), '°C', 4)],
      ['solid', 'Solid then', solid === null ? '–' : `${Math.round(100 * solid)} %`],
      ['freezes', 'Solid for good after', Words.withUnit(freezes, 's', 4)],
      ['fed', 'Fed then by', fedWords(sheet, i, j, time)],
    ];
    if (!['temperature', 'solid', 'freeze_time_s', 'part'].includes(map.id))
      list.push(['map', map.name, Words.withUnit(sheet.value(map.id, i, j), map.unit, 4)]);
    return list;
  }

  function show() {
    const node = Dom.byId('reading');
    node.replaceChildren();
    if (!State.cursor) return;
    for (const [key, name, value] of rows()) node.append(Dom.make('dt', {}, name), Dom.make('dd', { 'data-key': key }, value));
  }
  function speak(opening = '') {
    Dom.byId('spoken').textContent = opening + (State.cursor ? rows().map(([, name, value]) => `${name}: ${value}`).join('. ') : '');
  }

  function keep() {
    State.change({ kept: { sheet: State.sheet, ...State.cursor } });
    speak('Kept for the cooling curves. ');
  }
  function listen() {
    const stage = Dom.byId('stage');
    stage.addEventListener('pointermove', event => {
      const at = View.pixelUnder(event);
      if (at) State.change({ cursor: at });
    });
    stage.addEventListener('click', event => {
      const at = View.pixelUnder(event);
      if (at) { State.change({ cursor: at, ring: null }); keep(); }
    });
    stage.addEventListener('keydown', event => {
      const step = event.shiftKey ? 10 : 1;
      const moves = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] };
      const sheet = Sheets[State.sheet];
      if (moves[event.key]) {
        const [di, dj] = moves[event.key];
        const from = State.cursor || { i: Math.floor(sheet.nx / 2), j: Math.floor(sheet.ny / 2) };
        const clamp = (v, n) => Math.min(n - 1, Math.max(0, v));
        State.change({ cursor: { i: clamp(from.i + di, sheet.nx), j: clamp(from.j + dj, sheet.ny) } });
        speak();
      } else if (event.key === 'Enter' && State.cursor) keep();
      else if (event.key === ' ') TimeBar.toggle();
      else if (event.key === 'Escape') State.change({ ring: null });
      else return;
      event.preventDefault();
    });
  }
  return { show, speak, listen };
})();
