// Outline and classes by hand, on one photo. The geometry is in pixels of the photo, the centre of its first pixel at (0, 0).
import { html, svg } from './lit/lit-html.js';
import { state, call, act, jobPath, changed, picture, say, signAs } from './state.js';
import { words } from './words.js';
import { down, move, up, wheel, zoomBy } from './fingers.js';
import { paintBoard, paintTools, startPaint } from './paint.js';
import { trace, traceBoard, traceTools, tapped } from './trace.js';
import { byHand, outlines, outlinesKept, valveTools } from './valves.js';

// What is being set, null where nothing is: {file, mode, valves, at, findOthers, head, stem, painted, taps, zoom, x, y, steps};
// head and stem are those of the valve at hand.
export let edit = null;

const radians = (degrees) => (degrees * Math.PI) / 180;

export async function begin(shot, mode) {
  let marks;
  try {
    marks = await call(`${jobPath('marks')}?photo=${encodeURIComponent(shot.file)}`);
  } catch (error) {
    say(error.message); // such as marks that cannot be read: what is set now replaces them
    marks = { head: null, stem: null, others: [], painted: [] };
  }
  const valves = outlines(shot, marks);
  edit = {
    file: shot.file, mode, valves, at: Math.max(0, valves.findIndex(byHand)), findOthers: marks.head ? marks.find_others : valves.length > 1,
    painted: marks.painted, steps: [], taps: null, zoom: 1, x: 0, y: 0, width: shot.width, height: shot.height,
    get head() { return this.valves[this.at].head; },
    set head(head) { this.valves[this.at].head = head; },
    get stem() { return this.valves[this.at].stem; },
    set stem(stem) { this.valves[this.at].stem = stem; },
  };
  if (mode === 'paint') startPaint(edit);
  else if (valves[edit.at].guessed) trace(edit);
  changed();
  requestAnimationFrame(changed); // by the size of the stage, which is there now
}

export function end() {
  edit = null;
  changed();
}

// Remembers how things stand before a change, for the editor's own way back.
export function step() {
  edit.steps.push(JSON.stringify({ valves: edit.valves, at: edit.at, findOthers: edit.findOthers, painted: edit.painted }));
  if (edit.steps.length > 100) edit.steps.shift();
}

export function back() {
  const last = edit.steps.pop();
  if (last) Object.assign(edit, JSON.parse(last));
  changed();
}

// What is kept of an outline counts as set by hand, also where it was right as it was.
async function keep() {
  const set = edit.valves.filter((valve, n) => byHand(valve) || (edit.mode === 'outline' && n === edit.at));
  if (await act('marks', { file: edit.file, marks: { by: state.by, ...outlinesKept(set, edit.findOthers), painted: edit.painted } })) end();
}

// Leaves the outline of the valve at hand, or the classes, to the program again.
async function automatic() {
  const outlining = edit.mode === 'outline';
  const set = edit.valves.filter((valve, n) => byHand(valve) && !(outlining && n === edit.at));
  const marks = { by: '', ...outlinesKept(set, outlining || edit.findOthers), painted: outlining ? edit.painted : [] };
  if (marks.head || marks.painted.length) marks.by = state.by; // what stays by hand is signed
  if (await act('marks', { file: edit.file, marks })) end();
}

// Seen along the stem, its foot lies on the centre of the head: the handle of the whole outline stands a finger's width
// beyond it then, so that both can be taken hold of.
const fingerWidth = 44; // px on the screen, as large as a handle
function besideTheFoot() {
  const { head, stem } = edit;
  const box = document.querySelector('.stage')?.getBoundingClientRect();
  const width = fingerWidth * (box?.width ? edit.width / box.width : 1); // in pixels of the photo
  if (!stem || Math.hypot(stem.x2 - head.x, stem.y2 - head.y) >= width) return [0, 0];
  const length = Math.max(1, Math.hypot(stem.x2 - stem.x1, stem.y2 - stem.y1));
  return [stem.x2 + (width * (stem.x2 - stem.x1)) / length - head.x, stem.y2 + (width * (stem.y2 - stem.y1)) / length - head.y];
}

// Where the handles are, and what moving one does.
function handles() {
  const { head, stem } = edit;
  const [cos, sin] = [Math.cos(radians(head.angle)), Math.sin(radians(head.angle))];
  // Both ends of each axis: one of them is often beyond the photo. The stem goes where the head goes.
  const [besideX, besideY] = besideTheFoot();
  const found = [['head', words.handles.head, head.x + besideX, head.y + besideY, (x, y) => {
    const [dx, dy] = [x - besideX - head.x, y - besideY - head.y];
    Object.assign(head, { x: head.x + dx, y: head.y + dy });
    if (stem) Object.assign(stem, { x1: stem.x1 + dx, y1: stem.y1 + dy, x2: stem.x2 + dx, y2: stem.y2 + dy });
  }]];
  for (const end of [1, -1]) {
    const other = end < 0 ? '-other' : '';
    found.push(
      ['first' + other, words.handles['first' + other], head.x + end * head.a * cos, head.y + end * head.a * sin, (x, y) => {
        head.a = Math.max(4, Math.hypot(x - head.x, y - head.y));
        head.angle = (Math.atan2(end * (y - head.y), end * (x - head.x)) * 180) / Math.PI;
      }],
      ['second' + other, words.handles['second' + other], head.x - end * head.b * sin, head.y + end * head.b * cos, (x, y) => {
        head.b = Math.max(4, Math.abs((head.x - x) * sin + (y - head.y) * cos));
      }],
    );
  }
  if (stem) {
    const length = Math.max(1, Math.hypot(stem.x2 - stem.x1, stem.y2 - stem.y1));
    const [ux, uy] = [(stem.x2 - stem.x1) / length, (stem.y2 - stem.y1) / length];
    const [mx, my] = [(stem.x1 + stem.x2) / 2, (stem.y1 + stem.y2) / 2];
    found.push(
      ['far', words.handles.far, stem.x1, stem.y1, (x, y) => Object.assign(stem, { x1: x, y1: y })],
      ['foot', words.handles.foot, stem.x2, stem.y2, (x, y) => Object.assign(stem, { x2: x, y2: y })],
      ['width', words.handles.width, mx - (uy * stem.width) / 2, my + (ux * stem.width) / 2, (x, y) => {
        stem.width = Math.max(4, 2 * Math.abs(-(x - mx) * uy + (y - my) * ux));
      }],
    );
  }
  return found;
}

const place = (event) => {
  const box = document.querySelector('.stage').getBoundingClientRect();
  return [((event.clientX - box.left) / box.width) * edit.width - 0.5, ((event.clientY - box.top) / box.height) * edit.height - 0.5];
};

const inside = (v, most) => Math.min(1.9 * most, Math.max(-0.9 * most, v));

// Handles may lie on each other: the one whose middle is nearest is meant.
function grab(event) {
  event.preventDefault();
  const [fromX, fromY] = place(event);
  const away = ([, , x, y]) => Math.hypot(x - fromX, y - fromY);
  const [name, , x, y, pull] = handles().reduce((nearest, one) => (away(one) < away(nearest) ? one : nearest));
  const target = document.querySelector(`.handle.${name}`);
  target.focus();
  target.setPointerCapture(event.pointerId);
  const offset = [x - fromX, y - fromY];
  step();
  const drag = (e) => {
    const [px, py] = place(e);
    pull(inside(px + offset[0], edit.width), inside(py + offset[1], edit.height));
    edit.loupe = [px + offset[0], py + offset[1]];
    changed();
  };
  const done = () => {
    target.removeEventListener('pointermove', drag);
    edit.loupe = edit.stop = null;
    changed();
  };
  edit.stop = () => {
    done();
    back();
  };
  target.addEventListener('pointermove', drag);
  target.addEventListener('pointerup', done, { once: true });
  target.addEventListener('pointercancel', done, { once: true });
}

// How far an arrow moves: a pixel, ten with shift; one that is held down makes larger and larger steps.
let held = 0;
export function stride(event) {
  held = event.repeat ? held + 1 : 0;
  const by = event.shiftKey || held > 12 ? 10 : held > 4 ? 4 : 1;
  return { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[event.key];
}

function nudge(event, pull, x, y) {
  const way = stride(event);
  if (!way) return;
  event.preventDefault();
  if (!event.repeat) step();
  pull(inside(x + way[0], edit.width), inside(y + way[1], edit.height));
  changed();
}

function shapes() {
  if (edit.taps && edit.taps.length < 3) return svg`<g transform="translate(.5 .5)">${tapped(edit)}</g>`;
  const others = edit.valves.filter((_, n) => n !== edit.at);
  return svg`<g transform="translate(.5 .5)">
    <g class="others">${others.map((valve) => outlineOf(valve, 'line'))}</g>
    ${outlineOf(edit, 'casing')}${outlineOf(edit, 'line')}
    ${edit.taps ? tapped(edit) : ''}</g>`;
}

function outlineOf({ head: h, stem: s }, look) {
  return svg`<ellipse class=${look} cx=${h.x} cy=${h.y} rx=${h.a} ry=${h.b} transform=${`rotate(${h.angle} ${h.x} ${h.y})`}/>
    ${s ? svg`<path class=${look} d=${corners(s)}/>` : ''}`;
}

function corners(s) {
  const length = Math.max(1, Math.hypot(s.x2 - s.x1, s.y2 - s.y1));
  const [nx, ny] = [(-(s.y2 - s.y1) / length) * (s.width / 2), ((s.x2 - s.x1) / length) * (s.width / 2)];
  return `M${s.x1 + nx} ${s.y1 + ny}L${s.x2 + nx} ${s.y2 + ny}L${s.x2 - nx} ${s.y2 - ny}L${s.x1 - nx} ${s.y1 - ny}Z`;
}

// The glass that shows what is under the finger.
function loupe(shot) {
  if (!edit.loupe) return '';
  const [x, y] = edit.loupe;
  const scale = 2.2 * Math.max(1, 640 / edit.width);
  return html`<svg class="loupe" viewBox=${`${x + 0.5 - 60 / scale} ${y + 0.5 - 60 / scale} ${120 / scale} ${120 / scale}`} aria-hidden="true">
    <image href=${picture(shot, 'plain')} width=${edit.width} height=${edit.height}/>${shapes()}</svg>`;
}

// Fingers are told of before what lies under them.
const capturing = (told) => ({ handleEvent: (event) => told(edit, event), capture: true });

// The photo with what is set on it.
export function board(shot) {
  return html`<div class="table" @wheel=${(event) => wheel(edit, event)} @pointerdown=${capturing(down)} @pointermove=${capturing(move)}
    @pointerup=${capturing((_, event) => up(event))} @pointercancel=${capturing((_, event) => up(event))}>
    <div class="stage" .style=${`aspect-ratio: ${edit.width} / ${edit.height}; --ratio: ${edit.width / edit.height}; --zoom: ${edit.zoom}; transform: translate(${edit.x}px, ${edit.y}px) scale(${edit.zoom})`}>
      <img src=${picture(shot, edit.mode === 'paint' && edit.measured ? 'marked' : 'plain')} alt=${words.photoOf(shot.file)} draggable="false">
      ${edit.mode === 'paint' ? paintBoard(edit, place) : html`
      <svg viewBox=${`0 0 ${edit.width} ${edit.height}`} aria-hidden="true">${shapes()}</svg>
      ${edit.taps ? traceBoard(edit, place) : handles().map(([name, label, x, y, pull]) => html`<button class="handle ${name}" aria-label=${label} title=${label}
        .style=${`left: ${((x + 0.5) / edit.width) * 100}%; top: ${((y + 0.5) / edit.height) * 100}%`}
        @pointerdown=${grab} @keydown=${(event) => nudge(event, pull, x, y)}><i></i></button>`)}`}
    </div>
    ${edit.mode === 'outline' ? loupe(shot) : ''}
  </div>`;
}

function stemSwitch() {
  return html`<label class="check"><input type="checkbox" .checked=${Boolean(edit.stem)} @change=${(event) => {
    step();
    const h = edit.head;
    edit.stem = event.target.checked ? { x1: h.x, y1: h.y - 1.6 * h.b, x2: h.x, y2: h.y - 0.2 * h.b, width: 0.35 * h.a } : null;
    changed();
  }}> ${words.stemInView}</label>`;
}

export function tools() {
  return html`<section class="editing" aria-label=${edit.mode === 'outline' ? words.outline : words.paint}>
    <h2>${edit.mode === 'outline' ? words.outline : words.paint}</h2>
    ${edit.taps ? traceTools(edit) : html`<p class="hint">${edit.mode === 'outline' ? words.outlineHint : words.paintHint}</p>
    ${edit.mode === 'outline' ? html`${valveTools(edit)}<button @click=${() => trace(edit)}>${words.drawAnew}</button>${stemSwitch()}` : paintTools(edit)}
    <label class="field"><span>${words.yourName}</span><input .value=${state.by} maxlength="200" @change=${(event) => signAs(event.target.value.trim())}></label>
    `}<div class="row" role="group" aria-label=${words.zoom}>
      <button class="square" aria-label=${words.zoomOut} @click=${() => zoomBy(edit, 1 / 1.5)}>−</button>
      <button class="square" aria-label=${words.zoomIn} @click=${() => zoomBy(edit, 1.5)}>+</button>
      ${edit.taps ? '' : html`<button class="quiet" ?disabled=${!edit.steps.length} @click=${back}>${words.stepBack}</button>`}
    </div>
    <div class="row"><button class="main" ?disabled=${edit.taps} @click=${keep}>${words.keep}</button>
      <button class="quiet" @click=${end}>${words.cancel}</button></div>
    <button class="quiet" @click=${automatic}>${edit.mode === 'outline' ? words.automatic : words.unpaint}</button>
  </section>`;
}
