// The tree of pools over time.
const Pools = (() => {
  const most = 60, rowHeight = 38;

  // Parents before their children, each branch together.
  function ordered(pools) {
    const children = new Map();
    pools.forEach((pool, n) => children.set(pool.parent, [...(children.get(pool.parent) || []), n]));
    const out = [];
    const walk = n => { out.push(n); (children.get(n) || []).forEach(walk); };
    (children.get(null) || []).forEach(walk);
    return out;
  }
  const nameOf = (pool, n) => `${n + 1} ${pool.parts.slice(0, 2).join(', ')}${pool.parts.length > 2 ? ' …' : ''}`;
  const endWords = pool => pool.splits ? 'comes apart' : 'closes';

  function chart() {
    const pools = ANSWER.pools, node = Dom.byId('pool-chart');
    const order = ordered(pools).slice(0, most), svg = Dom.svg;
    const width = Math.max(280, Math.min(node.clientWidth || 600, 940)), end = Math.max(...pools.map(p => p.ends_s));
    const x = t => 6 + t / end * (width - 18), rowOf = new Map(order.map((n, row) => [n, row]));
    const height = order.length * rowHeight + 44;
    const root = svg('svg', { viewBox: `0 0 ${width} ${height}`, role: 'img',
      'aria-label': `Pools over time: ${pools.length} pools until ${Words.seconds(end)}; the table below has the same` });
    for (const t of Fronts.rounds(0, end, width / 85)) {
      root.append(svg('line', { class: 'grid', x1: x(t), x2: x(t), y1: 0, y2: height - 40 }),
        svg('text', { x: x(t), y: height - 24, 'text-anchor': t === 0 ? 'start' : 'middle' }, Words.number(t, 6)));
    }
    root.append(svg('text', { x: width - 6, y: height - 6, 'text-anchor': 'end' }, 'time in s'));
    for (const n of order) {
      const pool = pools[n], y = rowOf.get(n) * rowHeight + 18, long = Math.max(3, x(pool.ends_s) - x(pool.begins_s));
      if (pool.parent !== null && rowOf.has(pool.parent))
        root.append(svg('path', { class: 'link', d: `M${x(pool.begins_s)} ${rowOf.get(pool.parent) * rowHeight + 30}V${y + 7}` }));
      const unfed = pool.fed_by.length === 0;
      root.append(svg('rect', { class: unfed ? 'bar lost' : 'bar', x: x(pool.begins_s), y, width: long, height: 14, rx: 2 }));
      if (pool.lost_feeder_s !== null || unfed) {
        const at = x(Math.max(pool.lost_feeder_s ?? 0, pool.begins_s));
        root.append(svg('path', { class: 'cross', d: `M${at - 5} ${y + 2}l10 10m0 -10l-10 10` }));
      }
      const late = x(pool.begins_s) > 0.62 * width;
      root.append(svg('text', { class: 'halo', x: late ? x(pool.ends_s) : x(pool.begins_s) + 1, y: y - 4, 'text-anchor': late ? 'end' : 'start' },
        nameOf(pool, n) + (unfed ? ', no feeder' : pool.lost_feeder_s !== null ? ', loses its feeder' : '')));
    }
    node.replaceChildren(root);
    if (pools.length > most) node.append(Dom.make('p', { class: 'small' }, `The first ${most} of ${pools.length}; the table has all.`));
  }

  function table() {
    Dom.table(Dom.byId('pool-table'),
      [{ text: 'Pool' }, { text: 'From' }, { text: 'Begins, s', number: true }, { text: 'Ends, s', number: true }, { text: 'Fed by' }, { text: 'What becomes of it' }],
      ANSWER.pools.map((pool, n) => [nameOf(pool, n), pool.parent === null ? 'the pour' : `pool ${pool.parent + 1}`,
        Words.number(pool.begins_s), `${Words.number(pool.ends_s)} ${endWords(pool)}`, pool.fed_by.join(', ') || 'nobody', Words.capital(pool.because)]));
  }
  function build() {
    if (ANSWER.pools.length === 0) return Dom.hide('pools');
    chart();
    table();
  }
  return { build, chart };
})();
