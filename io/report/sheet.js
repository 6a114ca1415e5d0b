// A sheet: what is drawn flat, its parts, maps and frames, unpacked when first asked for.
const Sheets = DATA.fields.sheets.map(source => {
  const kept = new Map();
  const once = (key, make) => {
    if (!kept.has(key)) kept.set(key, make());
    return kept.get(key);
  };
  const sheet = {
    ...source,
    width_mm: source.nx * source.pixel_mm,
    height_mm: source.ny * source.pixel_mm,
    loaded: {},
    axes: source.lie === 'from front' ? [0, 2] : source.lie === 'from right' ? [1, 2] : [0, 1],
    loadParts: () => once('parts', async () => { sheet.partOf = await Unpack.numbers(source.parts); }),
    // Puts the map (a name, or 'frames') into `loaded`.
    load: name => once(name, async () => {
      if (name === 'frames') {
        if (!source.frames) return;
        const pixels = source.frames.nx * source.frames.ny;
        const [temperature, solid] = await Promise.all([
          Unpack.frames(source.frames.temperature_C, pixels), Unpack.frames(source.frames.solid_fraction, pixels)]);
        Object.assign(sheet.loaded, { temperature, solid });
      } else if (source.maps[name]) sheet.loaded[name] = await Unpack.map(source.maps[name]);
    }),
    loadAll: () => Promise.all(['frames', ...Object.keys(source.maps)].map(sheet.load)),
    has: name => name === 'part' || (name === 'temperature' || name === 'solid' ? Boolean(source.frames) : Boolean(source.maps[name])),
    // The value of a pixel; null where there is none. Frames are coarser than maps on large sheets.
    value(name, i, j, frame = State.frame) {
      const held = sheet.loaded[name];
      if (!held) return null;
      if (name === 'temperature' || name === 'solid') {
        const f = source.frames;
        const step = held.steps[frame][Math.floor(j / f.factor) * f.nx + Math.floor(i / f.factor)];
        return step === 255 ? null : held.low + step / 254 * (held.high - held.low);
      }
      const step = held.steps[j * source.nx + i];
      return step === 65535 ? null : held.low + step / 65534 * (held.high - held.low);
    },
    part: (i, j) => DATA.parts[sheet.partOf[j * source.nx + i]],
    // Centre of a pixel in mm, in the sheet's own directions.
    centre: (i, j) => [source.x0_mm + (i + 0.5) * source.pixel_mm, source.y0_mm + (j + 0.5) * source.pixel_mm],
    pixelAt(x, y) {
      const clamp = (v, n) => Math.min(n - 1, Math.max(0, Math.floor(v)));
      return { i: clamp((x - source.x0_mm) / source.pixel_mm, source.nx), j: clamp((y - source.y0_mm) / source.pixel_mm, source.ny) };
    },
    // Where a place of the answer lies on it; null where it does not.
    lay(at) {
      if (!at) return null;
      const third = source.lie === 'level' ? at[2] : source.lie === 'from front' ? at[1] : source.lie === 'from right' ? at[0] : null;
      if (third !== null && third !== undefined && (third < source.from_mm - 1e-6 || third > source.to_mm + 1e-6)) return null;
      return { x: at[sheet.axes[0]], y: at[sheet.axes[1]] };
    },
    // [x, y] or [x, y, z] in words.
    placeWords(i, j) {
      const [a, b] = sheet.centre(i, j);
      const names = ['x', 'y', 'z'];
      return `${names[sheet.axes[0]]} ${Words.number(a, 5)}, ${names[sheet.axes[1]]} ${Words.number(b, 5)} mm`;
    },
  };
  return sheet;
});
const Times = DATA.fields.times_s;
