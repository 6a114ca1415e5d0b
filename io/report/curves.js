// Cooling curves of the probes and of the place that was tapped.
const Curves = (() => {
  let drawnFor = null;

  function tapped() {
    if (!State.kept || Times.length === 0) return null;
    const { sheet, i, j } = State.kept, s = Sheets[sheet];
    const points = Times.map((t, frame) => [t, s.value('temperature', i, j, frame)]).filter(p => p[1] !== null);
    return { name: 'tapped place', kind: 'tapped', points, words: `${s.placeWords(i, j)}, in ${s.part(i, j).name}` };
  }
  function show(force = false) {
    if (!force && drawnFor === State.kept) return;
    drawnFor = State.kept;
    const probes = DATA.probe_curves.map(p => ({ name: p.name, points: p.points }));
    const place = tapped();
    const series = place ? [...probes, place] : probes;
    const node = Dom.byId('curve-chart'), words = Dom.byId('curve-words');
    if (series.length === 0) {
      node.replaceChildren();
      words.textContent = 'There are no probes in this case. Tap a place in the picture above, or move there with the arrow keys and press Enter: its curve stands here then.';
      return;
    }
    Charts.lines(node, { series, x: 'time in s', y: '°C', label: `Temperature over time: ${series.map(s => s.name).join(', ')}` });
    const said = DATA.probe_curves.map(p => `${p.name}: ${Words.place(p.at_mm)}, in ${p.part}`);
    if (place) {
      const held = Sheets[State.kept.sheet].loaded.temperature;
      said.push(`Tapped place: ${place.words}, from the ${Times.length} moments of the picture, in steps of ${Words.number((held.high - held.low) / 254, 2)} °C`);
    } else said.push('Tap a place in the picture above to see its curve here as well');
    words.textContent = said.join('. ') + '.';
  }
  return { show };
})();
