// The drawing of the engine: bores in their rows, valves as discs in the colour of their grade. A valve is a button: it takes
// the selected photos, or shows its own.
import { html } from './lit/lit-html.js';
import { state, act, changed } from './state.js';
import { words } from './words.js';
import { gradeWords } from './figures.js';

export const valveNumbers = () => Array.from({ length: state.sheet.facts.valves }, (_, n) => n + 1);

// Gives photos to a valve; they are done with then, but not what was selected meanwhile.
export async function assign(files, cylinder, valves) {
  for (const file of files) state.selected.delete(file);
  changed();
  if (await act('assign', { files, cylinder, valves })) return;
  for (const file of files) state.selected.add(file);
  changed();
}

function figureOf(cylinder, valve) {
  return state.sheet.cylinders[cylinder - 1]?.valves[valve - 1];
}

function press(cylinder, valve) {
  if (state.selected.size) {
    void assign([...state.selected], cylinder, [valve]);
    return;
  }
  const tile = [...document.querySelectorAll('.tile')].find((t) => t.dataset.valves?.split(' ').includes(`${cylinder}.${valve}`));
  tile?.scrollIntoView({ block: 'center', behavior: matchMedia('(prefers-reduced-motion: reduce)').matches ? 'auto' : 'smooth' });
  tile?.focus({ preventScroll: true });
}

const carried = 'application/x-valvegrade';

function disc(cylinder, valve) {
  const figure = figureOf(cylinder, valve);
  const overruled = figure?.overruled;
  const measured = figure?.grade ?? null;
  const grade = overruled ? overruled.grade : measured;
  const next = state.sheet.next === `${cylinder}.${valve}`;
  const told = gradeWords(figure) + (overruled ? `, ${words.overruledShort(overruled.by, gradeWords(overruled))}` : '') + (next ? `, ${words.nextOne}` : '');
  return html`<button class="disc ${grade === null ? 'none' : 'g' + grade} ${next ? 'next' : ''} ${overruled ? 'given' : ''}"
    aria-label=${words.valveButton(cylinder, valve, told, words.photoCount(figure?.photos ?? 0))}
    title=${words.valveLong(cylinder, valve)}
    @click=${() => press(cylinder, valve)}
    @dragover=${(event) => { if (event.dataTransfer.types.includes(carried)) { event.preventDefault(); event.currentTarget.classList.add('over'); } }}
    @dragleave=${(event) => event.currentTarget.classList.remove('over')}
    @drop=${(event) => {
      event.currentTarget.classList.remove('over');
      const files = event.dataTransfer.getData(carried);
      if (files) { event.preventDefault(); void assign(JSON.parse(files), cylinder, [valve]); }
    }}>${grade ?? (figure?.photos ? '–' : '')}${overruled ? html`<span class="measured ${measured === null ? 'none' : 'g' + measured}">${measured ?? '–'}</span>` : ''}</button>`;
}

export function carry(event, file) {
  const files = state.selected.has(file) ? [...state.selected] : [file];
  event.dataTransfer.setData(carried, JSON.stringify(files));
  event.dataTransfer.effectAllowed = 'link';
}

let changing = false;
function toggle() { changing = !changing; changed(); }

const count = (from, to) => Array.from({ length: to - from + 1 }, (_, n) => from + n);

// The rows in which cylinders may stand: one, or the banks of a V by the two common ways of counting.
function arrangements(n) {
  const all = count(1, n);
  const found = [[words.inRow, []]];
  if (n >= 4 && n % 2 === 0) {
    const halves = [all.slice(0, n / 2), all.slice(n / 2)];
    const odds = [all.filter((c) => c % 2), all.filter((c) => c % 2 === 0)];
    for (const rows of [halves, odds]) found.push([words.halves(rows[0].join(' '), rows[1].join(' ')), rows]);
  }
  return found;
}

async function setEngine(event) {
  event.preventDefault();
  const form = new FormData(event.target);
  const cylinders = Number(form.get('cylinders'));
  const rows = arrangements(cylinders)[Number(form.get('rows'))]?.[1] ?? [];
  if (await act('engine', { cylinders, valves: Number(form.get('valves')), rows })) {
    changing = false;
    changed();
  }
}

function setting() {
  const { cylinders, valves, rows } = state.sheet.facts;
  const n = Number(document.querySelector('.engine-form [name=cylinders]')?.value ?? (cylinders || 4));
  const at = Math.max(0, arrangements(n).findIndex(([, r]) => JSON.stringify(r) === JSON.stringify(rows)));
  return html`<form class="engine-form" @submit=${setEngine} @input=${changed}>
    <label>${words.cylinders} <select name="cylinders">${count(1, state.bay.most_cylinders).map((c) =>
      html`<option ?selected=${c === (cylinders || 4)}>${c}</option>`)}</select></label>
    <label>${words.valves} <select name="valves">${count(1, state.bay.most_valves).map((v) =>
      html`<option ?selected=${v === (valves || 2)}>${v}</option>`)}</select></label>
    <label>${words.rows} <select name="rows">${arrangements(n).map(([name], place) =>
      html`<option value=${place} ?selected=${place === at}>${name}</option>`)}</select></label>
    <div class="row"><button class="main">${words.set}</button>
    ${cylinders ? html`<button type="button" class="quiet" @click=${toggle}>${words.cancel}</button>` : ''}</div>
  </form>`;
}

export function engine() {
  const { facts } = state.sheet;
  if (!facts.cylinders || !facts.valves || changing) {
    return html`<section class="engine" aria-labelledby="engine-title"><h2 id="engine-title">${words.engineSet}</h2>${setting()}</section>`;
  }
  return html`<section class="engine" aria-labelledby="engine-title">
    <h2 id="engine-title">${words.engine} <button class="quiet small" @click=${toggle}>${words.change}</button></h2>
    ${facts.rows.map((row) => html`<ol class="bank">${row.map((cylinder) => html`<li>
      <div class="bore v${facts.valves}">${valveNumbers().map((valve) => disc(cylinder, valve))}</div>
      <span aria-hidden="true">${cylinder}</span></li>`)}</ol>`)}
  </section>`;
}
