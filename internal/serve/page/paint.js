// The brush: deposit classes where the program is wrong, and what does not count.
import { html } from './lit/lit-html.js';
import { changed, say, state } from './state.js';
import { back, step } from './outline.js';
import { words } from './words.js';

const paints = ['bare', 'film', 'medium', 'heavy', 'aside'];
const colours = { bare: '#c9d6de', film: '#e0bd7a', medium: '#8e4f21', heavy: '#1c1310', aside: '#6fe0f2' };
const mostPoints = 200; // of one stroke, of strokes, and of points in all: what a file of marks takes
const mostStrokes = 200;
const mostPainted = 10000;

export function startPaint(edit) {
  edit.paint ??= 'medium';
  edit.brush ??= Math.round(Math.min(edit.width, edit.height) / 14);
  edit.measured = true;
  edit.cursor = [edit.width / 2, edit.height / 2];
}

function draw(canvas, edit) {
  if (!canvas) return;
  const scale = Math.min(1, 1600 / Math.max(edit.width, edit.height));
  canvas.width = Math.round(edit.width * scale);
  canvas.height = Math.round(edit.height * scale);
  const pen = canvas.getContext('2d');
  pen.setTransform(scale, 0, 0, scale, 0.5 * scale, 0.5 * scale);
  pen.lineCap = 'round';
  pen.lineJoin = 'round';
  for (const stroke of edit.painted) {
    pen.strokeStyle = colours[stroke.paint];
    pen.lineWidth = stroke.width;
    pen.beginPath();
    pen.moveTo(...stroke.path[0]);
    for (const point of stroke.path) pen.lineTo(...point);
    pen.stroke();
  }
  if (document.activeElement !== canvas || !edit.byKeys) return;
  pen.lineWidth = 2 / scale;
  for (const [colour, grow] of [['#06222b', 1], ['#6fe0f2', 0]]) {
    pen.strokeStyle = colour;
    pen.beginPath();
    pen.arc(...edit.cursor, edit.brush / 2 + grow, 0, 7);
    pen.stroke();
  }
}

const tenth = (v) => Math.round(10 * v) / 10;

// Puts a point to the stroke, or begins another that goes on where it ended.
function extend(edit, point) {
  let stroke = edit.painted[edit.painted.length - 1];
  const last = stroke.path[stroke.path.length - 1];
  if (Math.hypot(point[0] - last[0], point[1] - last[1]) < Math.max(1, stroke.width / 8)) return;
  const another = stroke.path.length >= mostPoints ? 1 : 0;
  if (full(edit, another, 1 + another)) return;
  if (another) {
    stroke = { ...stroke, path: [last] };
    edit.painted.push(stroke);
  }
  stroke.path.push(point.map(tenth));
}

// Says so where a photo cannot carry so much more paint.
function full(edit, strokes, points) {
  const had = edit.painted.reduce((sum, { path }) => sum + path.length, 0);
  if (edit.painted.length + strokes <= mostStrokes && had + points <= mostPainted) return false;
  if (state.said !== words.muchPaint) say(words.muchPaint);
  return true;
}

function start(edit, point) {
  if (full(edit, 1, 1)) return false;
  step();
  edit.painted.push({ paint: edit.paint, width: edit.brush, path: [point.map(tenth)] });
  return true;
}

function press(event, edit, place) {
  if (!event.isPrimary) return;
  event.preventDefault();
  const canvas = event.currentTarget;
  canvas.focus();
  edit.byKeys = false;
  if (!start(edit, place(event))) return;
  canvas.setPointerCapture(event.pointerId);
  const drag = (e) => {
    for (const one of e.getCoalescedEvents?.() ?? [e]) extend(edit, place(one));
    draw(canvas, edit);
  };
  const done = () => {
    canvas.removeEventListener('pointermove', drag);
    edit.stop = null;
    changed();
  };
  edit.stop = () => {
    done();
    back();
  };
  canvas.addEventListener('pointermove', drag);
  canvas.addEventListener('pointerup', done, { once: true });
  canvas.addEventListener('pointercancel', done, { once: true });
  draw(canvas, edit);
}

// With keys: arrows move the brush, space puts it down and takes it up.
function keys(event, edit) {
  const by = event.shiftKey ? 20 : 4;
  const way = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[event.key];
  if (way) {
    edit.cursor = [Math.min(edit.width, Math.max(0, edit.cursor[0] + way[0])), Math.min(edit.height, Math.max(0, edit.cursor[1] + way[1]))];
    if (edit.down) extend(edit, edit.cursor);
  } else if (event.key === ' ') {
    edit.down = !edit.down && start(edit, edit.cursor);
  } else return;
  edit.byKeys = true;
  event.preventDefault();
  changed();
}

export function paintBoard(edit, place) {
  requestAnimationFrame(() => draw(document.querySelector('.stage canvas'), edit));
  return html`<canvas tabindex="0" role="application" aria-label=${words.paintLabel} @pointerdown=${(event) => press(event, edit, place)}
    @keydown=${(event) => keys(event, edit)} @blur=${() => { edit.down = false; changed(); }}></canvas>`;
}

export function paintTools(edit) {
  return html`<fieldset><legend>${words.brush}</legend><div class="paints">${paints.map((paint) => html`<label>
      <input type="radio" name="paint" .checked=${edit.paint === paint} @change=${() => { edit.paint = paint; changed(); }}>
      <i class="swatch ${paint}"></i> ${words.paints[paint]}</label>`)}</div></fieldset>
    <label class="field"><span>${words.brushWidth}</span><input type="range" min="4" max=${Math.round(Math.min(edit.width, edit.height) / 3)}
      .value=${String(edit.brush)} @input=${(event) => { edit.brush = Number(event.target.value); changed(); }}></label>
    <label class="check"><input type="checkbox" .checked=${edit.measured} @change=${(event) => { edit.measured = event.target.checked; changed(); }}> ${words.measured}</label>`;
}
