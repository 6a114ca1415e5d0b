// What would mend it: changes that were tried by a solve, with the lines of the case to edit.
const Advice = (() => {
  const make = Dom.make;

  function editText(edit) {
    if (edit.key === null) return `# ${edit.where}\n${edit.to}`;
    return `# in ${edit.where}\n${edit.key} = ${edit.to}${edit.from === null ? '' : `   # was ${edit.from}`}`;
  }
  function offer(tried) {
    const cost = tried.extra_metal_kg > 0.0005
      ? `It takes ${Words.withUnit(tried.extra_metal_kg, 'kg')} more metal (${Words.number(tried.extra_metal_percent, 2)} %).` : 'It takes no more metal.';
    const margin = tried.margin_s === null ? '' : ` Margin ${Words.seconds(tried.margin_s)}${tried.margin_before_s === null ? '' : ` instead of ${Words.seconds(tried.margin_before_s)}`}.`;
    return make('div', { class: 'offer' }, make('p', {}, make('strong', {}, Words.capital(tried.change) + '.'), margin, ' ' + cost),
      tried.because ? make('p', { class: 'small' }, Words.capital(tried.because)) : null,
      tried.mends_too.length > 0 ? make('p', { class: 'small' }, `It also ends: ${tried.mends_too.join('; ')}.`) : null,
      tried.worse.length > 0 ? make('p', { class: 'small' }, `It costs elsewhere: ${tried.worse.map(w => `${w.of} ${w.from === null ? `is` : `from ${w.from} to`} ${w.to}`).join('; ')}.`) : null,
      tried.edits.length > 0 ? make('pre', { tabindex: '0', 'aria-label': 'Lines to edit' }, tried.edits.map(edit => editText(edit).trim()).join('\n\n')) : null);
  }
  function build() {
    const node = Dom.byId('advice'), troubles = ANSWER.advice;
    if (!troubles || troubles.length === 0) return Dom.hide('mend');
    node.append(make('p', {}, `Each was computed before it is offered (${ANSWER.advice_run.solves} solves). Whether it can be moulded and cut off, only you know.`));
    for (const t of troubles) {
      node.append(make('h3', {}, `${Words.capital(t.of)}: ${t.verdict}`), make('p', {}, Words.capital(t.because)));
      if (t.with.length > 0) node.append(make('p', { class: 'small' }, `Of the same cause: ${t.with.join('; ')}.`));
      t.offered.forEach(tried => node.append(offer(tried)));
      if (t.not_enough.length > 0)
        node.append(Dom.details('Tried in vain', make('ul', {}, ...t.not_enough.map(tried => make('li', {}, Words.capital(tried.change))))));
    }
    if (ANSWER.advice_run.because) node.append(make('p', { class: 'small' }, Words.capital(ANSWER.advice_run.because)));
  }
  return { build };
})();
