// The facts of the inspection: what is open, what was kept, and what is being typed.
import { html } from './lit/lit-html.js';
import { live } from './lit/directives/live.js';
import { state, act, changed } from './state.js';
import { words, said } from './words.js';
import { keeping } from './memory.js';
import { today, sentence } from './figures.js';

// What was typed and is not kept yet, by the names of the fields. Photos arrive, others work on, and the program may
// refuse a field meanwhile: what somebody typed stands until it is kept, and the sheet that tells so has come.
const draft = { id: '', fields: {}, kept: null };

function typedFields() {
  const { id } = state.sheet;
  if (draft.id !== id) Object.assign(draft, { id, fields: {}, kept: null });
  if (draft.kept && draft.kept.sheet !== state.sheet) {
    for (const [name, value] of Object.entries(draft.kept.sent)) if (draft.fields[name] === value) delete draft.fields[name];
    draft.kept = null;
  }
  return draft.fields;
}

function typing({ target: { name, value } }) {
  typedFields()[name] = value;
  if (name === 'stage') changed(); // after a cleaning there are more fields
}

const shownIn = (name, kept) => typedFields()[name] ?? kept ?? '';

async function keepFacts(event) {
  event.preventDefault();
  const form = new FormData(event.target);
  const [sheet, sent] = [state.sheet, Object.fromEntries(form)];
  Object.assign(typedFields(), sent);
  const methods = {};
  for (const [key, value] of form) if (key.startsWith('method-')) methods[key.slice(7)] = value;
  const { cylinders, valves, rows } = state.sheet.facts;
  const kept = await act('facts', {
    vehicle: form.get('vehicle'), date: form.get('date'), odometer: form.get('odometer'), stage: form.get('stage'), notes: form.get('notes'),
    plate: form.get('plate'), vin: form.get('vin'), family: form.get('family'), job: form.get('job'), technician: form.get('technician'), wish: form.get('wish'),
    methods, cylinders, valves, rows,
  });
  if (!kept || draft.id !== sheet.id) return;
  draft.kept = { sheet, sent };
  changed();
}

// The camera's last day, to be looked at before it is kept; else today. A stray photo of another day says nothing beside
// those that are given to valves.
function likelyDay() {
  const days = (shots) => shots.filter((shot) => shot.taken && !shot.left_out).map((shot) => shot.taken.slice(0, 10)).sort();
  const { shots } = state.sheet;
  return days(shots.filter((shot) => shot.valves.length)).at(-1) ?? days(shots).at(-1) ?? today();
}

// The field shows a date before anybody kept one.
const openFact = (text) => (!state.sheet.facts.date && text.startsWith('date is missing') ? words.dateProposed : said(text));

export function facts() {
  const f = state.sheet.facts;
  const stage = shownIn('stage', f.stage || 'routine');
  return html`<form class="sheet-facts" @submit=${keepFacts} @input=${typing}>
    <h2>${words.facts}</h2>
    ${state.sheet.open.length ? html`<div class="open"><b>${words.openFacts}</b><ul>${state.sheet.open.map((text) => html`<li>${sentence(openFact(text))}</li>`)}</ul></div>` : ''}
    <label class="field"><span>${words.vehicle}</span><input name="vehicle" .value=${live(shownIn('vehicle', f.vehicle))}></label>
    <label class="field"><span>${words.date}</span><input name="date" type="date" .value=${live(shownIn('date', f.date || likelyDay()))}></label>
    <label class="field"><span>${words.odometer}</span><input name="odometer" .value=${live(shownIn('odometer', f.odometer))} inputmode="text" placeholder=${words.odometerExample}></label>
    <label class="field"><span>${words.stage}</span><select name="stage">${['routine', 'before', 'after'].map((one) =>
      html`<option value=${one} .selected=${live(one === stage)}>${words.stages[one]}</option>`)}</select></label>
    ${stage === 'after' ? Array.from({ length: f.cylinders }, (_, n) => html`<label class="field"><span>${words.cleanedBy(n + 1)}</span>
      <input name=${`method-${n + 1}`} .value=${live(shownIn(`method-${n + 1}`, f.methods?.[n + 1]))}></label>`) : ''}
    <details class="more"><summary>${words.foundBy}</summary>${['plate', 'vin', 'family', 'job', 'technician', 'wish'].map((name) => html`<label class="field">
      <span>${words[name]}</span><input name=${name} maxlength="200" .value=${live(shownIn(name, f[name]))}></label>`)}</details>
    <label class="field"><span>${words.remarksKept}</span><textarea name="notes" .value=${live(shownIn('notes', f.notes))}></textarea></label>
    <div class="row"><button class="main">${words.keep}</button> ${keeping()}
      ${state.sheet.undo ? html`<button type="button" class="quiet" @click=${() => act('undo')}>${words.undo(said(state.sheet.undo))}</button>` : ''}</div>
  </form>`;
}
