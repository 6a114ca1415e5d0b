'use strict';
// What the page was made from, and what it shows at the moment.
const DATA = JSON.parse(document.getElementById('answer-data').textContent);
const ANSWER = DATA.answer;

const State = {
  sheet: 0,
  map: 'temperature',
  frame: 0,
  cursor: null,  // {i, j}, pixels of the sheet from its lower left corner
  kept: null,    // {sheet, i, j}: the place of the tapped cooling curve
  ring: null,    // {x, y} in mm: what a verdict is about
  listeners: [],
  change(values) {
    Object.assign(State, values);
    for (const listener of State.listeners) listener(values);
  },
  onChange(listener) { State.listeners.push(listener); },
};
