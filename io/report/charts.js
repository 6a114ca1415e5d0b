// Lines in an SVG with axes, drawn as wide as there is room so that letters keep their size.
const Charts = (() => {
  const svg = Dom.svg;
  const roomLeft = 58, roomBottom = 44, roomTop = 12;

  function axes(box, x, y, names) {
    const group = svg('g', {});
    const bottom = box.top + box.height;
    for (const v of Fronts.rounds(x.low, x.high, box.width / 80)) {
      group.append(svg('line', { class: 'grid', x1: box.x(v), x2: box.x(v), y1: box.top, y2: bottom }),
        svg('text', { x: box.x(v), y: bottom + 17, 'text-anchor': 'middle' }, Words.number(v, 6)));
    }
    for (const v of Fronts.rounds(y.low, y.high, box.height / 45)) {
      group.append(svg('line', { class: 'grid', x1: box.left, x2: box.left + box.width, y1: box.y(v), y2: box.y(v) }),
        svg('text', { x: box.left - 7, y: box.y(v) + 4, 'text-anchor': 'end' }, Words.number(v, 6)));
    }
    group.append(svg('path', { class: 'axis', d: `M${box.left} ${box.top}V${bottom}H${box.left + box.width}` }),
      svg('text', { x: box.left + box.width, y: bottom + 36, 'text-anchor': 'end' }, names.x),
      svg('text', { x: box.left + 6, y: box.top + 12, class: 'halo' }, names.y));
    return group;
  }

  function extent(series, n, least) {
    let low = Infinity, high = -Infinity;
    for (const s of series) for (const p of s.points) { low = Math.min(low, p[n]); high = Math.max(high, p[n]); }
    if (least !== undefined) low = Math.min(low, least);
    return high > low ? { low, high } : { low, high: low + 1 };
  }

  const dashes = ['', '8 4', '2 3', '10 3 2 3', '5 2', '1 4'];
  const look = (s, n) => ({ class: `series ${s.kind || ''}`, 'stroke-dasharray': dashes[n % dashes.length] || null });

  // Which dashes are whose.
  function key(series) {
    return Dom.make('ul', { class: 'key' }, ...series.map((s, n) => Dom.make('li', {},
      svg('svg', { viewBox: '0 0 44 12', 'aria-hidden': 'true' }, svg('path', { ...look(s, n), d: 'M1 6H43' })), s.name)));
  }

  // series: [{name, points, kind}]; told apart by dashes.
  function lines(node, { series, x, y, label, height = 280, zero }) {
    const width = Math.max(280, Math.min(node.clientWidth || 600, 940));
    const ranges = { x: extent(series, 0, 0), y: extent(series, 1, zero) };
    const box = { left: roomLeft, top: roomTop, width: width - roomLeft - 12, height: height - roomTop - roomBottom };
    box.x = v => box.left + (v - ranges.x.low) / (ranges.x.high - ranges.x.low) * box.width;
    box.y = v => box.top + box.height - (v - ranges.y.low) / (ranges.y.high - ranges.y.low) * box.height;
    const root = svg('svg', { viewBox: `0 0 ${width} ${height}`, role: 'img', 'aria-label': label }, axes(box, ranges.x, ranges.y, { x, y }));
    series.forEach((s, n) => {
      if (s.points.length > 0)
        root.append(svg('path', { ...look(s, n), d: 'M' + s.points.map(p => `${box.x(p[0]).toFixed(1)} ${box.y(p[1]).toFixed(1)}`).join('L') }));
    });
    node.replaceChildren(root, series.length > 1 || series.some(s => s.kind) ? key(series) : '');
    return { root, box };
  }
  return { lines };
})();
