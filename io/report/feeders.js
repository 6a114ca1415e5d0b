// Gates, necks and feeders: their margins, what feeders gave, and the questions of feeding.
const Feeders = (() => {
  const make = Dom.make;

  const kind = (name, otherwise) => ANSWER.parts.find(p => p.name === name)?.role ?? otherwise;

  function margins() {
    const rows = [
      ...ANSWER.gates.filter(g => g.verdict).map(g => [g.name, kind(g.name, 'way'), g.closes_s, g.needed_until_s, g.margin_s, g.verdict]),
      ...ANSWER.feeders.map(f => [f.name, kind(f.name, 'feeder'), f.feeds_until_s, f.needed_until_s, f.margin_s, f.verdict])];
    if (rows.length === 0 && ANSWER.shrinkage.draw_downs.length === 0) return Dom.hide('feeders');
    Dom.table(Dom.byId('margins'),
      [{ text: 'Name' }, { text: 'Kind' }, { text: 'Open until, s', number: true }, { text: 'Needed until, s', number: true }, { text: 'Margin, s', number: true }, { text: 'Verdict' }],
      rows.map(r => [r[0], r[1], ...r.slice(2, 5).map(v => Words.number(v)), Dom.verdict(r[5])]));
  }

  // The surface in the end under the top as poured: what is above it is gone.
  function profile(down) {
    const svg = Dom.svg, surface = down.surface_mm.map(p => [p[0], p[p.length - 1]]);
    if (surface.length < 2) return null;
    const x0 = surface[0][0], x1 = surface[surface.length - 1][0];
    const low = Math.min(down.lowest_mm, ...surface.map(p => p[1])), deep = Math.max(down.top_mm - low, 1e-3);
    const width = 300, pad = 20;
    const scale = Math.min((width - 90) / Math.max(x1 - x0, 1e-3), 160 / (1.25 * deep));
    const X = v => 10 + (v - x0) * scale, Y = v => pad + (down.top_mm - v) * scale, floor = pad + 1.25 * deep * scale;
    const torn = Array.from({ length: 12 }, (_, n) => `${(X(x1) + (X(x0) - X(x1)) * n / 12).toFixed(1)} ${(floor + (n % 2 ? 4 : -4)).toFixed(1)}`).join('L');
    const line = surface.map(p => `${X(p[0]).toFixed(1)} ${Y(p[1]).toFixed(1)}`).join('L');
    return svg('svg', { class: 'profile', viewBox: `0 0 ${width} ${Math.max(floor, pad + 30) + 8}`, role: 'img', 'aria-label': `Surface of ${down.name} in the end: it sank by ${Words.number(deep)} mm at its deepest` },
      svg('path', { class: 'metal', d: `M${X(x0)} ${floor}L${line}L${torn}Z` }),
      svg('path', { class: 'gone', d: `M${X(x0)} ${Y(surface[0][1])}V${pad}H${X(x1)}V${Y(surface[surface.length - 1][1])}` }),
      svg('text', { x: X(x1) + 6, y: pad + 5 }, 'as poured'),
      svg('text', { x: X(x1) + 6, y: Math.max(Y(low) + 4, pad + 22) }, `−${Words.number(deep)} mm`));
  }

  function drawDowns() {
    const node = Dom.byId('draw-downs');
    for (const down of ANSWER.shrinkage.draw_downs) {
      const course = make('div', { class: 'chart' }), side = make('div', { class: 'chart' });
      node.append(make('h3', {}, `Draw-down of ${down.name}`), make('p', {}, Words.capital(down.because)), make('div', { class: 'pair' }, side, course));
      const drawn = profile(down);
      if (drawn) side.append(drawn, make('p', { class: 'small' }, 'Its surface in the end, cut through the deepest point. What lies deeper is left out, at the torn edge.'));
      if (down.course.length > 1 && down.given_cm3 > 0) {
        Charts.lines(course, { series: [{ name: down.name, points: down.course }], x: 'time in s', y: 'cm³ given', height: 200, zero: 0,
          label: `Metal that ${down.name} gave over time, ${Words.withUnit(down.given_cm3, 'cm³')} in all` });
      }
    }
    for (const hole of ANSWER.shrinkage.cavities)
      node.append(make('p', {}, Dom.verdict('Hole', 'bad'), ` in ${hole.part} at ${Words.place(hole.at_mm)}, ${Words.withUnit(hole.volume_cm3, 'cm³')}: ${hole.because}`));
  }

  function questions() {
    const node = Dom.byId('rules'), rules = ANSWER.feeding_rules;
    if (rules.length === 0) return Dom.hide('questions');
    const fine = r => Words.gravity(r.verdict) === 'good';
    node.append(make('p', { class: 'print-only small' }, rules.every(fine) ? 'All are answered with ok.' : 'Those answered with ok are left out on paper.'));
    for (const of of new Set(rules.map(r => r.feeder))) {
      const asked = rules.filter(r => r.feeder === of);
      const table = make('table', { class: 'questions' }, make('caption', {}, of === null ? 'All of the casting' : Words.capital(of)));
      Dom.table(table, [{ text: 'Question' }, { text: 'Answer' }, { text: 'Why' }], asked.map(r => [
        Words.questions[r.rule] || r.rule,
        make('span', {}, Dom.verdict(r.verdict), r.number === null ? null : make('span', { class: 'small figure' }, figure(r))),
        make('span', {}, Words.capital(r.because), r.handbook ? make('span', { class: 'small no-print' }, ` Rule of thumb: ${r.handbook}`) : null)]));
      table.querySelectorAll('tbody tr').forEach((row, n) => row.classList.toggle('no-print', fine(asked[n])));
      const wide = Dom.wide(`Questions of feeding, ${of ?? 'all of the casting'}`, table);
      wide.classList.toggle('no-print', asked.every(fine));
      node.append(wide);
    }
  }
  // "393 s (limit 2)": one unit for both.
  const figure = r => Words.withUnit(r.number, r.unit) + (r.limit === null ? '' : ` (limit ${Words.number(r.limit)})`);
  function build() { margins(); drawDowns(); questions(); }
  return { build };
})();
