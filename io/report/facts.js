// Parts, soundness, warnings, assumptions, materials, and how to repeat the run.
const Facts = (() => {
  const make = Dom.make, byId = Dom.byId;

  function head() {
    document.title = `${ANSWER.title}: how it freezes`;
    byId('title').textContent = ANSWER.title;
    byId('headline').textContent = DATA.headline.replace(/:$/, '.');
    const metal = ANSWER.metal, words = [];
    if (metal.last_freeze_s !== null) {
      const clock = Words.clock(metal.last_freeze_s);
      words.push(`Last metal solid after ${Words.seconds(metal.last_freeze_s)}${clock ? ` (${clock})` : ''}, at ${Words.place(metal.last_freeze_at_mm)}`);
    }
    words.push(`${Words.withUnit(metal.mass_kg, 'kg')} poured, ${Words.number(ANSWER.shrinkage.yield_percent, 2)} % of it casting`);
    if (ANSWER.opening && ANSWER.opening.at_s !== null)
      words.push(`the castings are below ${Words.number(ANSWER.opening.below_C, 4)} °C after ${Words.seconds(ANSWER.opening.at_s)}${Words.clock(ANSWER.opening.at_s) ? ` (${Words.clock(ANSWER.opening.at_s)})` : ''}`);
    byId('key-figures').textContent = words.join('; ') + '.';
  }

  function sizeWords(extent) {
    if (!extent) return '';
    const span = r => Words.number(r[1] - r[0], 4);
    const wide = DATA.view === 'axisymmetric' ? (extent.x[0] <= 0 ? `⌀ ${Words.number(2 * extent.x[1], 4)}` : `radius ${Words.number(extent.x[0], 4)} to ${Words.number(extent.x[1], 4)}`) : span(extent.x);
    return [wide, span(extent.y), extent.z ? span(extent.z) : null].filter(Boolean).join(' × ') + ' mm';
  }
  function parts() {
    const metal = new Map(ANSWER.parts.map(p => [p.name, p]));
    Dom.table(byId('parts'), [{ text: 'Part' }, { text: 'Size as drawn' }, { text: 'Mass, kg', number: true }, { text: 'Modulus, mm', number: true }, { text: 'Solid after, s', number: true }],
      DATA.parts.map((p, n) => {
        const m = metal.get(p.name);
        return [make('span', {}, n === 0 ? p.name : `${n} ${p.name}`, make('span', { class: 'small' }, n === 0 ? p.material : `${p.role}, ${p.material}`)), sizeWords(p.extent_mm), m ? Words.number(m.mass_kg) : '', m ? Words.number(m.modulus_mm) : '', m ? Words.number(m.last_freeze_s) : ''];
      }));
  }

  function soundness() {
    const node = byId('soundness'), s = ANSWER.soundness;
    for (const a of s.alloys) {
      node.append(make('h3', {}, `${a.material}: ${a.freezes}`), make('p', {}, Words.capital(a.because)));
      if (a.criterion.least) node.append(make('p', {}, `Lowest gradient criterion: ${Words.withUnit(a.criterion.least.sqrtKs_mm, '√(K s)/mm')} in ${a.criterion.least.part} at ${Words.place(a.criterion.least.at_mm)}${a.criterion.threshold_holds ? `; steel shows pores under ${Words.number(a.criterion.threshold_sqrtKs_mm)}` : ''}.`));
      for (const text of [a.pressure.because, a.structure.because]) if (text) node.append(make('p', {}, Words.capital(text)));
    }
    if (s.trust) node.append(make('p', { class: 'small' }, Words.capital(s.trust)));
    const sh = ANSWER.shrinkage;
    node.append(make('p', {}, `While it froze, ${Words.withUnit(sh.shrinks_cm3, 'cm³')} of room got empty: ${Words.withUnit(sh.drawn_down_cm3, 'cm³')} as draw-downs open to the air, ${Words.withUnit(sh.hollow_cm3, 'cm³')} as closed holes, ${Words.withUnit(sh.pores_cm3, 'cm³')} as fine pores.`));
    if (ANSWER.opening) {
      node.append(make('h3', {}, 'Opening the mould'), make('p', {}, Words.capital(ANSWER.opening.because)));
      if (ANSWER.opening.cautions.length > 0) node.append(make('ul', {}, ...ANSWER.opening.cautions.map(c => make('li', {}, Words.capital(c)))));
    }
  }

  function assumptions() {
    const views = {
      planar: `A straight cut through a long part, ${Words.number(DATA.section.depth_mm, 4)} mm deep: its ends, which freeze sooner, are left out.`,
      axisymmetric: 'A turned part: the section is swung round its axis at x = 0.',
      plan: 'A plan with heights, solved in three dimensions on levels.' };
    const list = [views[DATA.view],
      DATA.fill_s > 0 ? `The mould fills in ${Words.seconds(DATA.fill_s)}. No flow is computed: which way metal takes, splashes and folds are not told.`
        : `The mould is full at once, at ${Words.number(DATA.pour_C, 4)} °C. No flow is computed.`,
      'Heat alone decides when metal closes; stress, cracks, gas blows and slag are not computed.'];
    for (const group of [ANSWER.models.burning, ANSWER.models.open_tops]) for (const m of group) list.push(m.because);
    if (ANSWER.models.moisture) list.push(ANSWER.models.moisture.because);
    list.push('Handbook figures stand for your sand and your alloy. Trust the difference of two designs more than the seconds of one.');
    byId('assumptions').append(...list.filter(Boolean).map(t => make('li', {}, Words.capital(t))));
    const warnings = ANSWER.warnings;
    if (warnings.length > 0) byId('warnings').append(make('h3', {}, 'Warnings of this run'), make('ul', {}, ...warnings.map(w => make('li', {}, w))));
  }

  function matters() {
    const node = byId('matters');
    node.append(make('p', {}, `The heat adds up to within ${Words.number(100 * Math.abs(ANSWER.energy.relative_imbalance), 2)} %; ${ANSWER.run.cells} cells, ${ANSWER.run.steps} steps, ${Words.seconds(ANSWER.run.solve_s)} of computing.`));
    if (ANSWER.run.finer_cells) node.append(make('p', {}, Words.capital(ANSWER.run.finer_cells.because)));
    const check = ANSWER.self_check;
    if (check) node.append(make('p', {}, `With finer cells and steps 99 of 100 places freeze within ${Words.number(check.most_percent, 2)} % of these times.`));
    const m = ANSWER.what_matters;
    if (!m) return node.append(make('p', {}, 'Which uncertain inputs the verdicts hang on was not looked into: ', make('code', {}, '--what-matters'), ' does that.'));
    node.append(make('p', {}, Words.capital(m.because)));
    const table = make('table', {}, make('caption', {}, 'Uncertain inputs, what moves most first'));
    Dom.table(table, [{ text: 'Input' }, { text: 'Range' }, { text: 'Moves' }],
      m.inputs.slice(0, 12).map(i => [i.input, i.range, i.margin_of || 'no margin']));
    node.append(Dom.wide('Uncertain inputs', table));
  }

  function materials() {
    const node = byId('materials');
    for (const m of DATA.materials) {
      const used = make('table', {}, make('caption', {}, 'As used in this run'));
      Dom.table(used, [{ text: 'Property' }, { text: 'Value' }], m.used.map(v => [v.property, v.value]));
      node.append(make('h3', {}, m.designation ? `${m.name} (${m.designation})` : m.name), make('p', { class: 'small' }, `Source: ${m.source || 'the case itself'}.${m.note ? ` ${m.note}` : ''}`), used);
      if (m.library.length === 0) continue;
      const sources = make('table', {}, make('caption', {}, 'The library under this name, figure by figure; the case may have changed some'));
      Dom.table(sources, [{ text: 'Property' }, { text: 'Value' }, { text: 'Source' }],
        m.library.map(v => [v.property, v.value, (v.uncertainty_percent > 0 ? `± ${Words.number(v.uncertainty_percent)} %; ` : '') + v.source]));
      node.append(Dom.details(`Sources of ${m.name}, figure by figure`, Dom.wide(`Sources of ${m.name}`, sources)));
    }
  }

  function repeat() {
    const pre = text => make('pre', { tabindex: '0' }, text);
    byId('repeat').append(
      make('p', {}, 'Save the case below as case.toml (it lies beside this page as well), then run:'), pre('sandfreeze run case.toml -o answer'),
      make('p', { class: 'small' }, `sandfreeze ${ANSWER.program_version}; SHA-256 of the case `, make('code', {}, ANSWER.case_sha256)),
      Dom.details('The case file', pre(DATA.case_text)), Dom.details('Every value used, defaults included', pre(DATA.case_echo)));
  }
  function build() { parts(); soundness(); assumptions(); matters(); materials(); repeat(); }
  return { head, build };
})();
