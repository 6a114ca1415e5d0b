// Elements from code. Text is only ever text: nothing of the case is read as HTML.
const Dom = (() => {
  const byId = id => document.getElementById(id);

  function fill(node, attributes, children) {
    for (const [name, value] of Object.entries(attributes || {})) {
      if (value === null || value === undefined) continue;
      if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
      else node.setAttribute(name, value);
    }
    for (const child of children) if (child !== null && child !== undefined) node.append(child);
    return node;
  }
  const make = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);
  const svg = (tag, attributes, ...children) =>
    fill(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);

  // A verdict with a sign beside the colour.
  function verdict(text, gravity = Words.gravity(text)) {
    return make('span', { class: gravity }, make('span', { 'aria-hidden': 'true' }, Words.sign[gravity] + ' '), text);
  }

  // heads: [{text, number}], rows: arrays of text or nodes; the first cell of a row names it.
  function table(node, heads, rows) {
    const kind = n => heads[n].number ? 'number' : null;
    node.append(make('thead', {}, make('tr', {}, ...heads.map((h, n) => make('th', { scope: 'col', class: kind(n) }, h.text)))),
      make('tbody', {}, ...rows.map(row => make('tr', {}, ...row.map((cell, n) =>
        n === 0 ? make('th', { scope: 'row' }, cell) : make('td', { class: kind(n) }, cell))))));
    return node;
  }
  // Scrolls sideways on narrow screens, with the keyboard too.
  const wide = (label, child) => make('div', { class: 'wide', tabindex: '0', role: 'region', 'aria-label': label }, child);
  const hide = id => { byId(id).hidden = true; };
  const details = (summary, ...children) => make('details', {}, make('summary', {}, summary), ...children);
  return { byId, make, svg, verdict, table, wide, hide, details };
})();
