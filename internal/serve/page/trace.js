// The outline drawn anew by five taps: both ends of the longest line across the head, a third place on its rim, then the far
// end of the stem and its foot, in the middle of it. Press, look through the glass, and let go where the place is.
import { html, svg } from './lit/lit-html.js';
import { changed } from './state.js';
import { step, back, stride } from './outline.js';
import { words } from './words.js';

const stemOfHead = 0.48; // width of the stem in semi-axes of the head: the median of the demo photos

export function trace(edit) {
  step();
  edit.taps = [];
  edit.cursor = [edit.width / 2, edit.height / 2];
  changed();
  setTimeout(() => document.querySelector('.trace')?.focus({ preventScroll: true }));
}

// The ellipse with the ends of an axis at the first two places and the third on its rim.
function headThrough([[x1, y1], [x2, y2], [x3, y3]]) {
  const [x, y] = [(x1 + x2) / 2, (y1 + y2) / 2];
  const a = Math.max(4, Math.hypot(x2 - x1, y2 - y1) / 2);
  const [cos, sin] = [(x2 - x1) / (2 * a), (y2 - y1) / (2 * a)];
  const along = ((x3 - x) * cos + (y3 - y) * sin) / a;
  const across = Math.abs((y3 - y) * cos - (x3 - x) * sin);
  return { x, y, a, b: Math.max(4, across / Math.sqrt(Math.max(0.1, 1 - along * along))), angle: (Math.atan2(sin, cos) * 180) / Math.PI };
}

function tap(edit, point) {
  edit.taps.push(point);
  const { taps } = edit;
  if (taps.length === 3) Object.assign(edit, { head: headThrough(taps), stem: null });
  if (taps.length === 5) {
    const [[x1, y1], [x2, y2]] = taps.slice(3);
    edit.stem = { x1, y1, x2, y2, width: stemOfHead * edit.head.a };
    edit.taps = null;
  }
  edit.loupe = null;
  changed();
}

function withoutStem(edit) {
  edit.taps = null;
  changed();
}

// What was tapped last is taken back first, then all of it.
function untap(edit) {
  if (edit.taps.pop()) changed();
  else {
    edit.taps = null;
    back();
  }
}

function press(event, edit, place) {
  if (!event.isPrimary) return;
  event.preventDefault();
  const target = event.currentTarget;
  target.focus({ preventScroll: true });
  target.setPointerCapture(event.pointerId);
  edit.byKeys = false;
  const look = (e) => { edit.loupe = place(e); changed(); };
  const end = () => {
    target.removeEventListener('pointermove', look);
    target.removeEventListener('pointerup', done);
    edit.loupe = edit.stop = null;
    changed();
  };
  const done = (e) => { end(); tap(edit, place(e)); };
  edit.stop = end;
  target.addEventListener('pointermove', look);
  target.addEventListener('pointerup', done);
  target.addEventListener('pointercancel', end, { once: true });
  look(event);
}

function keys(event, edit) {
  const way = stride(event);
  if (way) {
    edit.byKeys = true;
    edit.cursor = [edit.cursor[0] + way[0], edit.cursor[1] + way[1]];
    edit.loupe = edit.cursor;
    changed();
  } else if (event.key === ' ' || event.key === 'Enter') tap(edit, [...edit.cursor]);
  else if (event.key === 'Backspace') untap(edit);
  else return;
  event.preventDefault();
}

export const tapped = (edit) => svg`${edit.taps.map(([x, y]) => cross(x, y, edit))}${edit.byKeys ? cross(...edit.cursor, edit) : ''}`;

function cross(x, y, edit) {
  const r = edit.width / 80;
  const d = `M${x - r} ${y}H${x + r}M${x} ${y - r}V${y + r}`;
  return svg`<path class="casing" d=${d}/><path class="line" d=${d}/>`;
}

export function traceBoard(edit, place) {
  return html`<div class="trace" tabindex="0" role="application" aria-label=${words.traceLabel}
    @pointerdown=${(event) => press(event, edit, place)} @keydown=${(event) => keys(event, edit)}></div>`;
}

const prompt = (edit) => html`<p class="prompt" role="status">${words.traceSteps[edit.taps.length]} ${words.of(edit.taps.length + 1, 5)}</p>`;

export function traceTools(edit) {
  return html`${prompt(edit)}<p class="hint">${words.traceHint}</p>
    <div class="row">${edit.taps.length === 3 ? html`<button @click=${() => withoutStem(edit)}>${words.stemHidden}</button>` : ''}
      <button class="quiet" @click=${() => untap(edit)}>${words.stepBack}</button></div>`;
}
