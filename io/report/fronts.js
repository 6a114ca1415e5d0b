// Lines of equal value through the pixels' centres: the freeze front at a moment is that of the freeze times.
const Fronts = (() => {
  // Pieces [x0, y0, x1, y1, ...] in pixels, from the lower left corner.
  function pieces(sheet, name, value) {
    const held = sheet.loaded[name];
    const lines = [];
    if (!held || value <= held.low || value >= held.high) return lines;
    const { nx, ny } = sheet, steps = held.steps;
    const level = (value - held.low) / (held.high - held.low) * 65534;
    const x = [0, 0, 0, 0], y = [0, 0, 0, 0];
    for (let j = 0; j + 1 < ny; ++j)
      for (let i = 0; i + 1 < nx; ++i) {
        const p = j * nx + i;
        const a = steps[p], b = steps[p + 1], c = steps[p + 1 + nx], d = steps[p + nx];
        if (a === 65535 || b === 65535 || c === 65535 || d === 65535) continue;
        const inside = (a >= level) + (b >= level) + (c >= level) + (d >= level);
        if (inside === 0 || inside === 4) continue;
        let n = 0;
        const cut = (v, w, x0, y0, x1, y1) => {
          if ((v >= level) === (w >= level)) return;
          const share = (level - v) / (w - v);
          x[n] = i + 0.5 + x0 + share * (x1 - x0);
          y[n++] = j + 0.5 + y0 + share * (y1 - y0);
        };
        cut(a, b, 0, 0, 1, 0); cut(b, c, 1, 0, 1, 1); cut(c, d, 1, 1, 0, 1); cut(d, a, 0, 1, 0, 0);
        for (let m = 0; m + 1 < n; m += 2) lines.push(x[m], y[m], x[m + 1], y[m + 1]);
      }
    return lines;
  }

  // Round values between two, some `wanted` of them.
  function rounds(low, high, wanted) {
    const rough = (high - low) / wanted;
    if (!(rough > 0)) return [];
    const ten = 10 ** Math.floor(Math.log10(rough));
    const step = [1, 2, 5, 10].map(f => f * ten).find(s => s >= rough * 0.999);
    const out = [];
    for (let n = Math.ceil(low / step - 1e-9); n * step <= high + 1e-9 * step; ++n) out.push(+(n * step).toPrecision(12));
    return out;
  }
  return { pieces, rounds };
})();
