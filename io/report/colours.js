// Colours of maps: viridis (van der Walt and Smith, CC0), evenly darker in grey and for colour-blind eyes.
const Colours = (() => {
  const stops = [
    0x440154, 0x470d60, 0x48186a, 0x482374, 0x472d7b, 0x453781, 0x424086, 0x3e4989,
    0x3b528b, 0x375b8d, 0x33638d, 0x2f6b8e, 0x2c728e, 0x297a8e, 0x26828e, 0x23898e,
    0x21918c, 0x1f978b, 0x1f9f88, 0x21a685, 0x27ad81, 0x31b57b, 0x3dbc74, 0x4cc26c,
    0x5cc863, 0x6ece58, 0x81d34d, 0x95d840, 0xaadc32, 0xc0df25, 0xd5e21a, 0xeae51a,
    0xfde725,
  ];
  const channel = (colour, shift) => (colour >> shift) & 255;

  // 0 to 1 → [r, g, b].
  function at(share) {
    const place = Math.min(1, Math.max(0, share)) * (stops.length - 1);
    const n = Math.min(stops.length - 2, Math.floor(place));
    return [16, 8, 0].map(s => Math.round(channel(stops[n], s) + (place - n) * (channel(stops[n + 1], s) - channel(stops[n], s))));
  }
  const packed = ([r, g, b]) => (255 << 24 | b << 16 | g << 8 | r) >>> 0;
  const table = Uint32Array.from({ length: 256 }, (_, n) => packed(at(n / 255)));

  const style = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  function fromStyle(name) {
    const hex = style(name);
    const long = hex.length === 4 ? [...hex.slice(1)].map(c => c + c).join('') : hex.slice(1);
    return [0, 2, 4].map(n => parseInt(long.slice(n, n + 2), 16));
  }
  const isDark = () => matchMedia('(prefers-color-scheme: dark)').matches;

  // Greys of what is not a value: sand, air and the solid bodies in the mould; metal where a map says nothing.
  const shades = { casting: 0.62, gate: 0.5, neck: 0.5, runner: 0.5, sprue: 0.5, basin: 0.5, feeder: 0.4, chill: 0.18, sleeve: 0.72,
    core: 0.84, flask: 0.3, insert: 0.25, air: 1, sand: 0.9 };
  function ofParts(parts, forNames, onPaper) {
    const dark = !onPaper && isDark();
    const sand = onPaper ? [238, 238, 238] : fromStyle('--sand');
    return Uint32Array.from(parts.map((part, n) => {
      if (n === 0) return packed(sand);
      const shade = shades[part.role] ?? 0.7;
      if (part.poured && !forNames) return packed(dark ? [88, 80, 71] : [206, 198, 186]);
      const base = dark ? [40 + 150 * shade, 37 + 145 * shade, 33 + 135 * shade] : [255 * shade, 250 * shade, 240 * shade];
      return packed(base.map(Math.round));
    }));
  }
  return { at, table, ofParts, style };
})();
