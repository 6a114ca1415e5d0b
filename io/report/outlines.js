// Borders between parts, and where their names fit.
const Outlines = (() => {
  // Straight runs of pixel faces between different parts: [x0, y0, x1, y1, ...] in pixels.
  function borders(sheet) {
    if (sheet.borderLines) return sheet.borderLines;
    const { nx, ny, partOf } = sheet;
    const lines = [];
    for (let i = 1; i < nx; ++i)
      for (let j = 0, from = -1; j <= ny; ++j) {
        const edge = j < ny && partOf[j * nx + i] !== partOf[j * nx + i - 1];
        if (edge && from < 0) from = j;
        if (!edge && from >= 0) { lines.push(i, from, i, j); from = -1; }
      }
    for (let j = 1; j < ny; ++j)
      for (let i = 0, from = -1; i <= nx; ++i) {
        const edge = i < nx && partOf[j * nx + i] !== partOf[(j - 1) * nx + i];
        if (edge && from < 0) from = i;
        if (!edge && from >= 0) { lines.push(from, j, i, j); from = -1; }
      }
    return (sheet.borderLines = lines);
  }

  // For each part on the sheet the middle of its longest level run that is high enough as well: {part, i, j, wide, high}.
  function rooms(sheet) {
    if (sheet.rooms) return sheet.rooms;
    const { nx, ny, partOf } = sheet;
    const up = new Uint16Array(nx * ny);  // pixels of the same part from here downwards
    for (let p = 0; p < nx * ny; ++p) up[p] = p >= nx && partOf[p] === partOf[p - nx] ? up[p - nx] + 1 : 1;
    const best = new Map();
    for (let j = 0; j < ny; ++j)
      for (let i = 0; i < nx;) {
        const part = partOf[j * nx + i];
        let end = i;
        while (end < nx && partOf[j * nx + end] === part) ++end;
        const middle = Math.floor((i + end) / 2);
        let above = 0;
        while (j + above + 1 < ny && partOf[(j + above + 1) * nx + middle] === part) ++above;
        const below = up[j * nx + middle] - 1;
        const high = 2 * Math.min(above, below) + 1, wide = end - i;
        const score = Math.min(wide / 5, high) + 0.001 * wide + 0.002 * Math.min(wide, high);
        if (part !== 0 && score > (best.get(part)?.score ?? 0)) best.set(part, { part, i: (i + end) / 2, j: j + 0.5, wide, high, score });
        i = end;
      }
    return (sheet.rooms = [...best.values()]);
  }
  return { borders, rooms };
})();
