// Puts the page together: words first, then the picture, then the rest.
(async () => {
  const byId = Dom.byId;

  function choosers() {
    const maps = byId('map-choice'), sheets = byId('sheet-choice');
    for (const map of Words.maps) if (Sheets.some(s => s.has(map.id))) maps.append(Dom.make('option', { value: map.id }, map.name));
    Sheets.forEach((sheet, n) => sheets.append(Dom.make('option', { value: n }, sheet.name)));
    byId('sheet-label').hidden = Sheets.length < 2;
    maps.addEventListener('change', () => State.change({ map: maps.value }));
    sheets.addEventListener('change', () => State.change({ sheet: Number(sheets.value), cursor: null, ring: null }));
  }
  function contents() {
    for (const section of document.querySelectorAll('main > section')) {
      if (section.hidden) continue;
      byId('contents').append(Dom.make('li', {}, Dom.make('a', { href: `#${section.id}` }, section.dataset.short)));
    }
  }

  let waiting = false;
  async function refresh() {
    byId('map-choice').value = State.map;
    byId('sheet-choice').value = State.sheet;
    const sheet = Sheets[State.sheet];
    await Promise.all([sheet.loadParts(), sheet.loadAll()]);
    if (!State.cursor) State.cursor = sheet.pixelAt(...middleOf(sheet));
    View.show();
    TimeBar.show();
    Reading.show();
    Curves.show();
  }
  // Where reading begins: at the last metal, where it lies on the sheet.
  function middleOf(sheet) {
    const at = sheet.lay(ANSWER.metal.last_freeze_at_mm);
    return at ? [at.x, at.y] : [sheet.x0_mm + sheet.width_mm / 2, sheet.y0_mm + sheet.height_mm / 2];
  }
  function later() {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(async () => { waiting = false; await refresh(); });
  }

  function printMap() {
    const sheet = Sheets[0], map = Words.mapNamed('freeze_time_s');
    if (!sheet.loaded.freeze_time_s) return;
    const canvas = byId('print-picture');
    View.draw(canvas, sheet, map, { width: 760, mostHeight: 420, dots: 2, frame: 0, onPaper: true });
    canvas.style.height = '';
    byId('print-words').textContent = 'Freeze time: each line is the freeze front at so many seconds; numbers are those of the verdicts.';
  }

  Facts.head();
  Findings.build();
  Advice.build();
  choosers();
  State.frame = Math.floor(Times.length / 3);
  const sheet = Sheets[0];
  await new Promise(done => requestAnimationFrame(() => setTimeout(done)));  // what is there is painted first
  Pools.build();
  Feeders.build();
  Facts.build();
  contents();
  TimeBar.listen();
  Reading.listen();
  State.onChange(later);
  await refresh();
  printMap();
  View.show();
  Curves.show(true);
  addEventListener('resize', () => { later(); Pools.chart(); Curves.show(true); });
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', later);
  document.documentElement.dataset.ready = 'yes';
})();
