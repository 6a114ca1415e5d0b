// Packed numbers back into arrays. Base64 of zlib; differences from the value before.
const Unpack = (() => {
  async function bytes(text) {
    const packed = atob(text);
    const raw = new Uint8Array(packed.length);
    for (let n = 0; n < packed.length; ++n) raw[n] = packed.charCodeAt(n);
    const stream = new Blob([raw]).stream().pipeThrough(new DecompressionStream('deflate'));
    return new Uint8Array(await new Response(stream).arrayBuffer());
  }

  // Low bytes before high bytes, each number less the one before it.
  async function numbers(text) {
    const raw = await bytes(text);
    const count = raw.length / 2;
    const out = new Uint16Array(count);
    let sum = 0;
    for (let n = 0; n < count; ++n) {
      sum = (sum + raw[n] + 256 * raw[count + n]) & 0xffff;
      out[n] = sum;
    }
    return out;
  }

  // {low, high, steps: Uint16Array}; 65535 is nothing.
  async function map(packed) {
    return packed && { low: packed.low, high: packed.high, steps: await numbers(packed.packed) };
  }

  // {low, high, steps: one Uint8Array a frame}; 255 is nothing.
  async function frames(packed, pixels) {
    const raw = await bytes(packed.packed);
    const steps = [];
    for (let start = 0; start < raw.length; start += pixels) {
      const frame = raw.slice(start, start + pixels);
      const before = steps[steps.length - 1];
      if (before) for (let n = 0; n < pixels; ++n) frame[n] += before[n];
      steps.push(frame);
    }
    return { low: packed.low, high: packed.high, steps };
  }

  return { numbers, map, frames };
})();
