// The verdicts: what is wrong, each a button that shows its place, and what is fine.
const Findings = (() => {
  const make = Dom.make, svg = Dom.svg;

  // The same shape and number as in the picture.
  function badge(gravity, n) {
    const shape = gravity === 'bad' ? svg('path', { d: 'M18 1L35 18L18 35L1 18Z', fill: '#7d1712', stroke: '#000' })
      : gravity === 'idle' ? svg('circle', { cx: 18, cy: 18, r: 15, fill: '#fff', stroke: '#000' })
      : svg('path', { d: 'M18 2L35 32H1Z', fill: '#ffe9a8', stroke: '#000' });
    return make('span', { class: 'badge', 'aria-hidden': 'true' }, svg('svg', { viewBox: '0 0 36 36' }, shape,
      svg('text', { x: 18, y: gravity === 'close call' ? 27 : 23, 'text-anchor': 'middle', 'font-size': 15, 'font-weight': 700, 'font-family': 'sans-serif',
        fill: gravity === 'bad' ? '#fff' : '#000' }, String(n))));
  }
  const classes = { bad: 'bad', 'close call': 'close', idle: 'idle' };
  const gravityWords = { bad: 'Wrong', 'close call': 'Too close to call', idle: 'For nothing' };

  function showPlace(finding) {
    let sheet = State.sheet;
    if (!Sheets[sheet].lay(finding.at_mm)) sheet = 0;
    const at = Sheets[sheet].lay(finding.at_mm);
    State.change({ sheet, ring: at, cursor: Sheets[sheet].pixelAt(at.x, at.y) });
    const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
    Dom.byId('stage').scrollIntoView({ block: 'center', behavior: calm ? 'auto' : 'smooth' });
    Dom.byId('stage').focus({ preventScroll: true });
    Reading.speak(`Ringed: ${finding.verdict}, ${finding.what}. `);
  }

  function item(finding, n) {
    const inner = [badge(finding.gravity, n + 1),
      make('span', {}, make('strong', { class: classes[finding.gravity] }, `${gravityWords[finding.gravity]}: ${finding.verdict}. `), Words.capital(finding.what)),
      make('span', { class: 'why' }, finding.because)];
    if (!finding.at_mm) return make('li', {}, make('div', { class: 'finding' }, ...inner));
    inner.push(make('span', { class: 'show' }, 'Show the place'));
    return make('li', {}, make('button', { type: 'button', class: 'finding', onclick: () => showPlace(finding) }, ...inner));
  }

  function fine() {
    const list = [];
    for (const g of ANSWER.gates) if (g.verdict === 'ok') list.push(`${g.name}: ${g.because || 'it stays open for long enough'}`);
    for (const f of ANSWER.feeders) if (f.verdict === 'ok') list.push(`${f.name}: ${f.because || 'it lasts'}`);
    const fed = ANSWER.hot_spots.filter(s => s.verdict === 'fed');
    if (fed.length > 3) list.push(`${fed.length} hot spots had a liquid way to a feeder until they closed`);
    else for (const s of fed) list.push(`Hot spot in ${s.part} at ${Words.place(s.at_mm)}: ${s.because}`);
    for (const c of ANSWER.chills) if (c.verdict === 'working') list.push(`${c.name}: ${c.because || 'it works'}`);
    for (const c of ANSWER.checks) if (c.passed) list.push(`Check holds: ${c.first} is solid before ${c.then}${c.measured_margin_s === null ? '' : `, by ${Words.seconds(c.measured_margin_s)}`}`);
    if (ANSWER.filling && ANSWER.filling.verdict === 'hot') list.push(ANSWER.filling.because);
    return list;
  }

  function build() {
    const node = Dom.byId('findings');
    DATA.findings.forEach((finding, n) => node.append(item(finding, n)));
    if (DATA.findings.length === 0) node.replaceWith(make('p', {}, Dom.verdict('Nothing stands out.', 'good')));
    const good = fine();
    for (const text of good)
      Dom.byId('fine-list').append(make('li', {}, make('span', { class: 'tick', 'aria-hidden': 'true' }, '✓'), Words.capital(text).replace(/([^.])$/, '$1.')));
    if (good.length === 0) Dom.hide('fine');
  }
  return { build };
})();
