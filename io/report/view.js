// Draws a sheet: map, borders, fronts, names, verdict marks, axes in mm and a scale bar.
const View = (() => {
  const room = { left: 46, right: 12, top: 12, bottom: 40 };
  let placed = null;  // how the picture on the page lies: {scale, left, top, height}

  // Which steps of a map its colours run over. What is beyond the high end has the last colour.
  function range(sheet, map) {
    const held = sheet.loaded[map.id];
    if (!held) return null;
    if (map.id === 'temperature') return { low: held.low, high: held.high };
    if (map.id === 'solid') return { low: 0, high: 1 };
    const low = map.zero ? 0 : held.low;
    if (map.full) return { low, high: map.full };
    if (!map.cut) return { low, high: held.high > low ? held.high : low + 1 };
    if (!held.cut) {
      const sorted = held.steps.filter(s => s !== 65535).sort();
      held.cut = held.low + sorted[Math.floor(map.cut * (sorted.length - 1))] / 65534 * (held.high - held.low);
    }
    return { low, high: held.cut > low ? held.cut : held.high, beyond: true };
  }

  function imageOf(sheet, map, frame, onPaper) {
    const framed = map.id === 'temperature' || map.id === 'solid';
    const nx = framed ? sheet.frames.nx : sheet.nx, ny = framed ? sheet.frames.ny : sheet.ny;
    const factor = framed ? sheet.frames.factor : 1;
    const image = new ImageData(nx, ny);
    const out = new Uint32Array(image.data.buffer);
    const parts = Colours.ofParts(DATA.parts, map.id === 'part', onPaper);
    const held = sheet.loaded[map.id];
    const steps = !held ? null : framed ? held.steps[frame] : held.steps;
    const nothing = framed ? 255 : 65535;
    const shown = range(sheet, map);
    const colours = new Uint32Array(nothing);
    if (held) for (let s = 0; s < nothing; ++s) {
      const value = held.low + s / (nothing - 1) * (held.high - held.low);
      colours[s] = Colours.table[Math.min(255, Math.max(0, Math.round(255 * (value - shown.low) / (shown.high - shown.low))))];
    }
    for (let j = 0; j < ny; ++j)
      for (let i = 0; i < nx; ++i) {
        const step = steps ? steps[j * nx + i] : nothing;
        const part = () => sheet.partOf[Math.min(sheet.ny - 1, j * factor) * sheet.nx + Math.min(sheet.nx - 1, i * factor)];
        out[(ny - 1 - j) * nx + i] = step === nothing ? parts[part()] : colours[step];
      }
    const canvas = document.createElement('canvas');
    canvas.width = nx;
    canvas.height = ny;
    canvas.getContext('2d').putImageData(image, 0, 0);
    return { canvas, wide: nx * factor, high: ny * factor };
  }

  function strokeTwice(pen, path, width) {
    pen.lineCap = 'round';
    pen.strokeStyle = '#000';
    pen.lineWidth = width + 2;
    pen.stroke(path);
    pen.strokeStyle = '#fff';
    pen.lineWidth = width;
    pen.stroke(path);
  }
  function pathOf(lines, lie) {
    const path = new Path2D();
    for (let n = 0; n < lines.length; n += 4) {
      path.moveTo(lie.px(lines[n]), lie.py(lines[n + 1]));
      path.lineTo(lie.px(lines[n + 2]), lie.py(lines[n + 3]));
    }
    return path;
  }
  function haloText(pen, text, x, y, size, weight = '600') {
    pen.font = `${weight} ${size}px "Segoe UI", "Noto Sans", "DejaVu Sans", Arial, sans-serif`;
    pen.lineJoin = 'round';
    pen.strokeStyle = '#fff';
    pen.lineWidth = 3.5;
    pen.strokeText(text, x, y);
    pen.fillStyle = '#111';
    pen.fillText(text, x, y);
  }

  function drawAxes(pen, sheet, lie, ink) {
    const names = ['x', 'y', 'z'];
    pen.strokeStyle = pen.fillStyle = ink;
    pen.lineWidth = 1;
    pen.font = '12px "Segoe UI", "Noto Sans", "DejaVu Sans", Arial, sans-serif';
    pen.strokeRect(lie.left, lie.top, lie.width, lie.height);
    pen.textAlign = 'center';
    pen.textBaseline = 'top';
    const bottom = lie.top + lie.height;
    const label = v => Words.number(v, 6);
    for (const v of Fronts.rounds(sheet.x0_mm, sheet.x0_mm + sheet.width_mm, lie.width / 70)) {
      pen.fillRect(lie.mx(v), bottom, 1, 5);
      pen.fillText(label(v), lie.mx(v), bottom + 7);
    }
    pen.textBaseline = 'middle';
    pen.textAlign = 'right';
    for (const v of Fronts.rounds(sheet.y0_mm, sheet.y0_mm + sheet.height_mm, lie.height / 50)) {
      pen.fillRect(lie.left - 5, lie.my(v), 5, 1);
      pen.fillText(label(v), lie.left - 8, lie.my(v));
    }
    const across = names[sheet.axes[0]], upward = names[sheet.axes[1]];
    const turned = DATA.view === 'axisymmetric';
    pen.textAlign = 'left';
    pen.textBaseline = 'alphabetic';
    const ten = 10 ** Math.floor(Math.log10(sheet.width_mm / 3)), bar = [5, 2, 1].map(f => f * ten).find(v => v <= sheet.width_mm / 3);
    const length = bar * lie.scale, right = lie.left + lie.width;
    const full = turned ? `x (radius) → and ${upward} ↑ in mm` : `${across} → and ${upward} ↑ in mm`;
    const fits = pen.measureText(full).width + length + 70 <= lie.width;
    pen.fillText(fits ? full : `${across} →, ${upward} ↑`, lie.left, bottom + 36);
    pen.fillRect(right - length, bottom + 27, length, 2);
    pen.fillRect(right - length, bottom + 23, 1.5, 10);
    pen.fillRect(right - 1.5, bottom + 23, 1.5, 10);
    pen.textAlign = 'right';
    pen.fillText(`${label(bar)} mm`, right - length - 6, bottom + 32);
  }

  function drawNames(pen, sheet, lie) {
    pen.textAlign = 'center';
    pen.textBaseline = 'middle';
    for (const r of Outlines.rooms(sheet)) {
      const wide = r.wide * lie.pixel, high = r.high * lie.pixel;
      const size = 13;
      pen.font = `600 ${size}px "Segoe UI", "Noto Sans", "DejaVu Sans", Arial, sans-serif`;
      const full = `${r.part} ${DATA.parts[r.part].name}`;
      const fits = pen.measureText(full).width + 8 <= wide && high >= size + 2;
      haloText(pen, fits ? full : String(r.part), lie.px(r.i), lie.py(r.j), fits || high >= 12 ? size : 11);
    }
  }

  // For the head of a pin: over its tip, else to the right or left of there, else below; on others when all is taken.
  function freePlace(tip, lie, taken) {
    const left = lie.left + 15, right = lie.left + lie.width - 15;
    const rows = tip.y - lie.top < 50 ? [32, 61] : [-32, 32, -61];
    for (const row of rows)
      for (let n = 0; n < 13; ++n) {
        const x = Math.min(right, Math.max(left, tip.x)) + (n % 2 === 0 ? -1 : 1) * Math.ceil(n / 2) * 29;
        if (x >= left - 1 && x <= right + 1 && !taken.some(t => Math.hypot(t.x - x, t.y - tip.y - row) < 28)) return { x, y: tip.y + row };
      }
    return { x: Math.min(right, Math.max(left, tip.x)), y: tip.y + rows[0] };
  }

  // Numbers of the verdicts on pins whose tips are at their places, the shape by how bad.
  function drawMarks(pen, sheet, lie) {
    const taken = [];
    DATA.findings.forEach((finding, n) => {
      const at = sheet.lay(finding.at_mm);
      if (!at) return;
      const tip = { x: lie.mx(at.x), y: lie.my(at.y) };
      const { x, y } = freePlace(tip, lie, taken);
      taken.push({ x, y });
      const stem = new Path2D();
      stem.moveTo(tip.x, tip.y);
      stem.lineTo(x, y);
      stem.arc(tip.x, tip.y, 1.5, 0, 7);
      strokeTwice(pen, stem, 1.8);
      drawMark(pen, finding.gravity, x, y, n + 1);
    });
  }
  function drawMark(pen, gravity, x, y, n) {
    pen.beginPath();
    if (gravity === 'bad') { pen.moveTo(x, y - 14); pen.lineTo(x + 14, y); pen.lineTo(x, y + 14); pen.lineTo(x - 14, y); pen.closePath(); }
    else if (gravity === 'idle') pen.arc(x, y, 11, 0, 7);
    else { pen.moveTo(x, y - 15); pen.lineTo(x + 14, y + 10); pen.lineTo(x - 14, y + 10); pen.closePath(); }
    pen.fillStyle = gravity === 'bad' ? '#7d1712' : gravity === 'idle' ? '#fff' : '#ffe9a8';
    pen.strokeStyle = '#fff';
    pen.lineWidth = 4;
    pen.stroke();
    pen.fill();
    pen.strokeStyle = '#000';
    pen.lineWidth = 1.2;
    pen.stroke();
    pen.font = '700 12px "Segoe UI", "Noto Sans", "DejaVu Sans", Arial, sans-serif';
    pen.textAlign = 'center';
    pen.textBaseline = 'middle';
    pen.fillStyle = gravity === 'bad' ? '#fff' : '#000';
    pen.fillText(String(n), x, gravity === 'close call' ? y + 3 : y + 1);
  }

  function drawCross(pen, lie, at, kept) {
    const x = lie.px(at.i + 0.5), y = lie.py(at.j + 0.5), path = new Path2D();
    for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
      path.moveTo(x + 4 * dx, y + 4 * dy);
      path.lineTo(x + 13 * dx, y + 13 * dy);
    }
    if (kept) path.rect(x - 5, y - 5, 10, 10);
    strokeTwice(pen, path, 1.6);
  }
  function drawRing(pen, lie, ring) {
    const path = new Path2D();
    path.arc(lie.mx(ring.x), lie.my(ring.y), 24, 0, 7);
    strokeTwice(pen, path, 3.5);
  }

  function layOut(sheet, width, mostHeight) {
    const inner = { width: width - room.left - room.right, height: mostHeight - room.top - room.bottom };
    const scale = Math.min(inner.width / sheet.width_mm, inner.height / sheet.height_mm);
    const lie = { scale, left: room.left, top: room.top, width: sheet.width_mm * scale, height: sheet.height_mm * scale, pixel: sheet.pixel_mm * scale };
    lie.px = i => lie.left + i * lie.pixel;
    lie.py = j => lie.top + lie.height - j * lie.pixel;
    lie.mx = mm => lie.left + (mm - sheet.x0_mm) * scale;
    lie.my = mm => lie.top + lie.height - (mm - sheet.y0_mm) * scale;
    return lie;
  }

  function frontLines(pen, sheet, map, lie, frame) {
    const held = sheet.loaded[map.id];
    if (map.fronts && held) {
      const values = Fronts.rounds(held.low, held.high, 7).filter(v => v > held.low && v < held.high);
      for (const v of values) strokeTwice(pen, pathOf(Fronts.pieces(sheet, map.id, v), lie), 0.9);
      pen.textAlign = 'center';
      pen.textBaseline = 'middle';
      const taken = Outlines.rooms(sheet).map(r => [lie.px(r.i), lie.py(r.j)]);  // by names of parts
      for (const v of values) {  // label each line where it is free
        const lines = Fronts.pieces(sheet, map.id, v);
        for (let n = 0; n < lines.length; n += 4) {
          const x = lie.px(lines[n]), y = lie.py(lines[n + 1]);
          if (taken.some(t => Math.abs(t[0] - x) < 46 && Math.abs(t[1] - y) < 18)) continue;
          taken.push([x, y]);
          haloText(pen, Words.number(v, 4), x, y, 11);
          break;
        }
      }
    }
    if (map.moving && sheet.loaded.freeze_time_s && Times.length > 0) {
      const path = pathOf(Fronts.pieces(sheet, 'freeze_time_s', Times[frame]), lie);
      strokeTwice(pen, path, 2.2);
    }
  }

  // Draws into a canvas so many CSS pixels wide; returns how it lies.
  function draw(canvas, sheet, map, options) {
    const lie = layOut(sheet, options.width, options.mostHeight);
    const height = lie.top + lie.height + room.bottom, dots = options.dots || window.devicePixelRatio || 1;
    canvas.width = Math.round(options.width * dots);
    canvas.height = Math.round(height * dots);
    canvas.style.height = `${height}px`;
    const pen = canvas.getContext('2d');
    pen.scale(dots, dots);
    const key = `${map.id} ${map.id === 'temperature' || map.id === 'solid' ? options.frame : ''} ${options.onPaper ? 'paper' : Colours.style('--sand')}`;
    if (sheet.imageKey !== key) { sheet.image = imageOf(sheet, map, options.frame, options.onPaper); sheet.imageKey = key; }
    pen.save();
    pen.beginPath();
    pen.rect(lie.left, lie.top, lie.width, lie.height);
    pen.clip();
    pen.imageSmoothingEnabled = false;
    pen.drawImage(sheet.image.canvas, lie.left, lie.top + lie.height - sheet.image.high * lie.pixel, sheet.image.wide * lie.pixel, sheet.image.high * lie.pixel);
    const borders = pathOf(Outlines.borders(sheet), lie);
    pen.lineCap = 'square';
    pen.strokeStyle = 'rgba(255,255,255,.75)';
    pen.lineWidth = 2.6;
    pen.stroke(borders);
    pen.strokeStyle = '#111';
    pen.lineWidth = 1.1;
    pen.stroke(borders);
    frontLines(pen, sheet, map, lie, options.frame);
    drawNames(pen, sheet, lie);
    drawMarks(pen, sheet, lie);
    if (options.kept) drawCross(pen, lie, options.kept, true);
    if (options.cursor) drawCross(pen, lie, options.cursor, false);
    if (options.ring) drawRing(pen, lie, options.ring);
    pen.restore();
    drawAxes(pen, sheet, lie, options.onPaper ? '#000' : Colours.style('--ink'));
    return lie;
  }

  function drawLegend(sheet, map) {
    const canvas = Dom.byId('legend-bar'), shown = range(sheet, map);
    canvas.hidden = !shown;
    if (!shown) return;
    const width = canvas.parentElement.clientWidth, dots = window.devicePixelRatio || 1;
    canvas.width = Math.round(width * dots);
    canvas.height = Math.round(44 * dots);
    const pen = canvas.getContext('2d');
    pen.scale(dots, dots);
    const left = room.left, length = Math.min(width - left - 60, 460), factor = map.factor || 1;
    for (let n = 0; n < length; ++n) {
      pen.fillStyle = `rgb(${Colours.at(n / (length - 1))})`;
      pen.fillRect(left + n, 4, 1.5, 14);
    }
    const ink = Colours.style('--ink');
    pen.strokeStyle = pen.fillStyle = ink;
    pen.lineWidth = 1;
    pen.strokeRect(left, 4, length, 14);
    pen.font = '12px "Segoe UI", "Noto Sans", "DejaVu Sans", Arial, sans-serif';
    pen.textAlign = 'center';
    pen.textBaseline = 'top';
    const low = shown.low * factor, high = shown.high * factor;
    for (const v of Fronts.rounds(low, high, length / 58)) {
      const x = left + (v - low) / (high - low) * length;
      pen.fillRect(x, 18, 1, 4);
      pen.fillText(Words.number(v, 6), x, 24);
    }
    pen.textAlign = 'left';
    pen.textBaseline = 'middle';
    pen.fillText(map.unit + (shown.beyond ? ' +' : ''), left + length + 8, 11);
  }

  function legendWords(sheet, map) {
    const shown = range(sheet, map), held = sheet.loaded[map.id], words = [];
    if (map.id === 'temperature' && held) words.push(`Read in steps of ${Words.number((held.high - held.low) / 254, 2)} °C.`);
    if (shown?.beyond) words.push(`From ${Words.withUnit(shown.high, map.unit)} on all has the last colour; the largest is ${Words.withUnit(held.high, map.unit)}.`);
    if (sheet.thinned > 1) words.push(`Thinned: one voxel in ${sheet.thinned} each way is shown.`);
    if (sheet.frames && sheet.frames.factor > 1 && (map.id === 'temperature' || map.id === 'solid'))
      words.push(`Over time one pixel in ${sheet.frames.factor} each way is kept.`);
    if (sheet.lie === 'from above') words.push('From above: of each column the hottest metal, the last to freeze, the first to be cut off, the worst value.');
    if (map.id !== 'temperature' && map.id !== 'part') words.push('Flat grey or sand: no value there.');
    return words.join(' ');
  }

  function show() {
    const sheet = Sheets[State.sheet], map = Words.mapNamed(State.map);
    const stage = Dom.byId('stage');
    const kept = State.kept && State.kept.sheet === State.sheet ? State.kept : null;
    placed = draw(Dom.byId('picture'), sheet, map, {
      width: stage.clientWidth, mostHeight: Math.max(300, Math.min(0.74 * window.innerHeight, 760)), frame: State.frame,
      cursor: State.cursor, kept, ring: State.ring });
    drawLegend(sheet, map);
    Dom.byId('legend-words').textContent = legendWords(sheet, map);
    Dom.byId('map-words').textContent = map.says;
  }

  // The pixel under a pointer; null beside the picture.
  function pixelUnder(event) {
    const box = Dom.byId('picture').getBoundingClientRect(), sheet = Sheets[State.sheet];
    const i = Math.floor((event.clientX - box.left - placed.left) / placed.pixel);
    const j = Math.floor((placed.top + placed.height - (event.clientY - box.top)) / placed.pixel);
    return i >= 0 && j >= 0 && i < sheet.nx && j < sheet.ny ? { i, j } : null;
  }
  // Where a pixel lies in the window.
  function pointOf(i, j) {
    const box = Dom.byId('picture').getBoundingClientRect();
    return { x: box.left + placed.px(i + 0.5), y: box.top + placed.py(j + 0.5) };
  }
  return { draw, show, pixelUnder, pointOf };
})();
