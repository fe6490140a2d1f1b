// The contact sheet by keyboard alone.
import { state, act, changed } from './state.js';
import { assign } from './engine.js';

let number = '';
export const typed = () => number;

const tiles = () => [...document.querySelectorAll('.tile')];

function move(from, by) {
  const all = tiles();
  const to = all[Math.min(all.length - 1, Math.max(0, all.indexOf(from) + by))];
  if (!to) return;
  for (const tile of all) tile.tabIndex = tile === to ? 0 : -1;
  to.focus();
}

// How many tiles stand side by side.
function columns() {
  const all = tiles();
  const below = all.findIndex((tile) => tile.offsetTop > all[0].offsetTop);
  return below < 0 ? all.length : below;
}

// A digit is a cylinder, the next its valve; an engine with ten cylinders or more wants a point between the two.
function digit(key, tile) {
  const { cylinders, valves } = state.sheet.facts;
  const files = state.selected.size ? [...state.selected] : [tile.dataset.file];
  if (key === '0' && number === '') {
    void assign(files, 0, []);
    return;
  }
  number += key;
  const parts = number.split('.');
  const whole = cylinders > 9 ? parts.length === 2 && parts[1] !== '' : number.length === 2;
  if (valves === 1 && cylinders <= 9) parts.splice(0, 2, number, '1');
  else if (cylinders <= 9) parts.splice(0, 2, number[0], number[1]);
  if (whole || (valves === 1 && cylinders <= 9)) {
    number = '';
    void assign(files, Number(parts[0]), [Number(parts[1])]);
  }
  if (!state.selected.size && number) state.selected.add(tile.dataset.file);
  changed();
}

export function keys(event) {
  const tile = event.target.closest('.tile');
  if (!tile || event.target !== tile || event.ctrlKey || event.metaKey || event.altKey) return;
  const { key } = event;
  const steps = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: columns(), ArrowUp: -columns(), Home: -1e6, End: 1e6 };
  if (key in steps) move(tile, steps[key]);
  else if (key === ' ') {
    const { file } = tile.dataset;
    state.selected[state.selected.has(file) ? 'delete' : 'add'](file);
    changed();
  } else if (key === 'Enter') location.hash = tile.querySelector('.frame').getAttribute('href');
  else if (/^[0-9]$/.test(key) || (key === '.' && number)) digit(key, tile);
  else if (key === 'Escape') { number = ''; state.selected.clear(); changed(); }
  else if (key === 'Backspace') { number = ''; void assign(state.selected.size ? [...state.selected] : [tile.dataset.file], 0, []); }
  else if (key === 'u' || key === 'U') void act('undo');
  else return;
  event.preventDefault();
}
