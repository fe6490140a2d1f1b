// Which valves of a photo are outlined, and by whom: those set by hand, and beside them those that the program finds.
import { html } from './lit/lit-html.js';
import { changed } from './state.js';
import { back, step } from './outline.js';
import { trace } from './trace.js';
import { words } from './words.js';

const shape = ({ head, stem }) => JSON.stringify([head, stem]);

// What the program found of a valve. Where it fitted no ellipse, the head is drawn anew, from a guess at the stem's foot.
function foundOutline({ head: h, stem: s }) {
  const stem = s ? { x1: s.x1_px, y1: s.y1_px, x2: s.x2_px, y2: s.y2_px, width: s.width_px } : null;
  const head = h ? { x: h.x_px, y: h.y_px, a: h.a_px, b: h.b_px, angle: h.angle_deg } : stem && { x: stem.x2, y: stem.y2, a: 1.5 * stem.width, b: stem.width, angle: 0 };
  return head && { head, stem, guessed: !h, found: shape({ head, stem }) };
}

// A valve that nobody has outlined yet.
function somewhere({ width, height }) {
  const side = Math.min(width, height);
  return { head: { x: width / 2, y: height / 2, a: side / 3, b: side / 3.5, angle: 0 }, stem: null, guessed: true };
}

// The outlines of a photo from left to right, by its marks and what is seen in it.
export function outlines(shot, marks) {
  const byHand = marks.head ? [{ head: marks.head, stem: marks.stem }, ...marks.others] : [];
  const found = byHand.length && !marks.find_others ? [] : shot.seen.filter((one) => !one.by_hand).map(foundOutline).filter(Boolean);
  const all = [...byHand, ...found].sort((a, b) => a.head.x - b.head.x);
  return all.length ? all : [somewhere(shot)];
}

// An outline is set by hand where it is another than the program's.
export const byHand = (valve) => valve.found !== shape(valve);

// What a file of marks says of outlines that are set by hand, and whether the program finds further valves.
export function outlinesKept(valves, findOthers) {
  const [first, ...others] = valves.map(({ head, stem }) => ({ head, stem }));
  return { head: first?.head ?? null, stem: first?.stem ?? null, others, find_others: Boolean(first && findOthers) };
}

function choose(edit, n) {
  edit.at = n;
  if (edit.valves[n].guessed) trace(edit);
  changed();
}

function add(edit) {
  step();
  edit.findOthers ||= !edit.valves.every(byHand);
  edit.valves.push(somewhere(edit));
  edit.at = edit.valves.length - 1;
  trace(edit);
}

// Which valve's outline is shown with handles, and whether those without one by hand count.
export function valveTools(edit) {
  const { valves } = edit;
  return html`${valves.length > 1 ? html`<label class="field"><span>${words.outlineOf}</span><select @change=${(event) => choose(edit, Number(event.target.value))}>
      ${valves.map((valve, n) => html`<option value=${n} ?selected=${n === edit.at}>${words.valveInPhoto(n + 1, valves.length)}${byHand(valve) ? `, ${words.byHand}` : ''}</option>`)}</select></label>
    <label class="check"><input type="checkbox" .checked=${edit.findOthers} @change=${(event) => {
      step();
      edit.findOthers = event.target.checked;
      changed();
    }}> ${words.findOthers}</label>` : ''}
    <button class="quiet" @click=${() => add(edit)}>${words.addValve}</button>`;
}
