// What the photos say together, valve by valve, and the facts of the inspection.
import { html } from './lit/lit-html.js';
import { live } from './lit/directives/live.js';
import { state, act, changed, picture, signAs } from './state.js';
import { words, shared, said } from './words.js';
import { address } from './address.js';
import { reading } from './sheet.js';
import { keeping, lastOfValve, lastTold, lastVisit } from './memory.js';
import { today, plate, gradeWords, figures, ruler, steps, advice, buildUp, due, known, told, sentence } from './figures.js';

let overruling = '';

async function overrule(event, cylinder, valve) {
  event.preventDefault();
  const form = new FormData(event.target);
  signAs(form.get('by'));
  if (await act('overrule', { cylinder, valve, grade: Number(form.get('grade')), by: form.get('by'), reason: form.get('reason') })) {
    overruling = '';
    changed();
  }
}

function overruleForm(cylinder, valve) {
  const id = `${cylinder}.${valve.number}`;
  if (overruling !== id) return html`<button class="quiet" @click=${() => { overruling = id; changed(); }}
    aria-label=${`${words.overrule}: ${words.valveOf(cylinder, valve.number)}`}>${words.overrule}</button>`;
  return html`<form class="sign" @submit=${(event) => overrule(event, cylinder, valve.number)}>
    <fieldset><legend>${words.gradeByEye}</legend><div class="grades">${shared().grades.map(({ name }, grade) => html`<label>
      <input type="radio" name="grade" value=${grade} required ?checked=${valve.overruled?.grade === grade}>
      ${plate({ grade })} ${name}</label>`)}</div></fieldset>
    <label class="field"><span>${words.yourName}</span><input name="by" required maxlength="200" .value=${state.by}></label>
    <label class="field"><span>${words.reason}</span><input name="reason" required maxlength="500" .value=${valve.overruled?.reason ?? ''}></label>
    <div class="row"><button class="main">${words.overrule}</button>
    <button type="button" class="quiet" @click=${() => { overruling = ''; changed(); }}>${words.cancel}</button></div>
  </form>`;
}

// Why no photo of a valve could be judged, each reason once.
const refusals = (shots) => [...new Set(shots.filter((shot) => !shot.left_out)
  .flatMap(({ seen }) => seen.flatMap(({ reasons }) => reasons.filter(({ refuses }) => refuses).map((reason) => told(reason).short))))];

// What to know of the photos of a valve that count, each caution once.
function cautions(shots, number) {
  const seen = shots.filter((shot) => !shot.left_out).flatMap((shot) =>
    (shot.seen.length === shot.valves.length ? [shot.seen[shot.valves.indexOf(number)]] : shot.seen));
  const found = seen.filter(known).flatMap(({ reasons }) => reasons.filter(({ refuses }) => !refuses).map(told));
  return [...new Map(found.map((caution) => [caution.short, caution])).values()];
}

function valve(cylinder, one, last) {
  const shots = state.sheet.shots.filter((shot) => shot.cylinder === cylinder && shot.valves.includes(one.number));
  const measured = gradeWords(one);
  return html`<article class="valve" aria-label=${words.valveLong(cylinder, one.number)}>
    <div class="strip">${shots.map((shot) => html`<a href=${address(state.sheet.id, 'photo', shot.file)} class=${shot.left_out || shot.state !== 'good' ? 'out' : ''}>
      ${shot.picture ? html`<img src=${picture(shot, 'small')} alt=${words.photoOf(shot.file) + (shot.left_out ? `, ${words.leftOut}` : '')} loading="lazy">` : html`<span class="none">${words.arriving}</span>`}</a>`)}
      ${shots.length ? '' : html`<span class="none">${words.photoCount(0)}</span>`}</div>
    <div class="words">
      <h3>${words.valveLong(cylinder, one.number)}</h3>
      ${one.overruled ? html`<p class="signed">${plate(one.overruled, true)} ${words.overruledBy(one.overruled.by, gradeWords(one.overruled), one.overruled.reason)}</p>
        <p>${words.measuredAs(measured)} ${plate(one)}</p>` : html`<p class="loud">${plate(one, true)} ${measured} ${steps(one)}</p>`}
      ${known(one) ? '' : refusals(shots).map((why) => html`<p class="doubt">${sentence(why)}.</p>`)}
      ${figures(one)}${ruler(one)}${advice(one)}${buildUp(one, one.used)}
      ${known(one) ? cautions(shots, one.number).map(({ short, advice }) => html`<p class="doubt"><b>${sentence(short)}</b>: ${advice}.</p>`) : ''}
      ${lastOfValve(last, cylinder, one.number)}
      <div class="row">${overruleForm(cylinder, one)}
        ${one.overruled && overruling !== `${cylinder}.${one.number}` ? html`<button class="quiet" @click=${() =>
          act('overrule', { cylinder, valve: one.number, grade: null, by: '', reason: '' })}>${words.takeBack}</button>` : ''}</div>
    </div>
  </article>`;
}

async function keepFacts(event) {
  event.preventDefault();
  const form = new FormData(event.target);
  const methods = {};
  for (const [key, value] of form) if (key.startsWith('method-')) methods[key.slice(7)] = value;
  const { cylinders, valves, rows } = state.sheet.facts;
  await act('facts', {
    vehicle: form.get('vehicle'), date: form.get('date'), odometer: form.get('odometer'), stage: form.get('stage'), notes: form.get('notes'),
    plate: form.get('plate'), vin: form.get('vin'), family: form.get('family'), job: form.get('job'), technician: form.get('technician'), wish: form.get('wish'),
    methods, cylinders, valves, rows,
  });
}

// The camera's last day, to be looked at before it is kept; else today. A stray photo of another day says nothing beside
// those that are given to valves.
function likelyDay() {
  const days = (shots) => shots.filter((shot) => shot.taken && !shot.left_out).map((shot) => shot.taken.slice(0, 10)).sort();
  const { shots } = state.sheet;
  return days(shots.filter((shot) => shot.valves.length)).at(-1) ?? days(shots).at(-1) ?? today();
}

// Photos that were graded and given to no valve count nowhere, which nobody must find out by himself.
const withoutValve = () => state.sheet.shots.filter((shot) => !shot.valves.length && !shot.left_out && shot.seen.some(known)).length;

// The field shows a date before anybody kept one.
const openFact = (text) => (!state.sheet.facts.date && text.startsWith('date is missing') ? words.dateProposed : said(text));

function facts() {
  const f = state.sheet.facts;
  return html`<form class="sheet-facts" @submit=${keepFacts}>
    <h2>${words.facts}</h2>
    ${state.sheet.open.length ? html`<div class="open"><b>${words.openFacts}</b><ul>${state.sheet.open.map((text) => html`<li>${sentence(openFact(text))}</li>`)}</ul></div>` : ''}
    <label class="field"><span>${words.vehicle}</span><input name="vehicle" .value=${live(f.vehicle)}></label>
    <label class="field"><span>${words.date}</span><input name="date" type="date" .value=${live(f.date || likelyDay())}></label>
    <label class="field"><span>${words.odometer}</span><input name="odometer" .value=${live(f.odometer)} inputmode="text" placeholder="45210 mi"></label>
    <label class="field"><span>${words.stage}</span><select name="stage">${['routine', 'before', 'after'].map((stage) =>
      html`<option value=${stage} ?selected=${stage === (f.stage || 'routine')}>${words.stages[stage]}</option>`)}</select></label>
    ${f.stage === 'after' ? Array.from({ length: f.cylinders }, (_, n) => html`<label class="field"><span>${words.cleanedBy(n + 1)}</span>
      <input name=${`method-${n + 1}`} .value=${live(f.methods?.[n + 1] ?? '')}></label>`) : ''}
    <details class="more"><summary>${words.foundBy}</summary>${['plate', 'vin', 'family', 'job', 'technician', 'wish'].map((name) => html`<label class="field">
      <span>${words[name]}</span><input name=${name} maxlength="200" .value=${live(f[name])}></label>`)}</details>
    <label class="field"><span>${words.remarksKept}</span><textarea name="notes" .value=${live(f.notes)}></textarea></label>
    <div class="row"><button class="main">${words.keep}</button> ${keeping()}
      ${state.sheet.undo ? html`<button type="button" class="quiet" @click=${() => act('undo')}>${words.undo(said(state.sheet.undo))}</button>` : ''}</div>
  </form>`;
}

export function result() {
  const { cylinders, worst, median, notes } = state.sheet;
  const worstOne = cylinders[worst - 1];
  const graded = cylinders.filter(known).length;
  const last = lastVisit();
  return html`<main class="result">
    <div class="work">
      ${reading()}
      <p class="loud">${worstOne ? cylinders.length === 1 ? sentence(gradeWords(worstOne)) + '.' : html`${words.worstCylinder(worst, gradeWords(worstOne), graded < cylinders.length ? graded : 0)}${graded > 1 ? ` ${words.median(gradeWords(median))}` : ''}` : state.sheet.reading ? '' : words.nothing}</p>
      ${withoutValve() ? html`<p class="hint">${words.withoutValve(withoutValve())}</p>` : ''}
      ${lastTold(last)}
      ${cylinders.map((cylinder) => html`<section class="cylinder" aria-labelledby=${`cylinder-${cylinder.number}`}>
        <h2 id=${`cylinder-${cylinder.number}`}>${words.cylinder(cylinder.number)} ${plate(cylinder)}<span>${gradeWords(cylinder)}</span>${due(cylinder)}</h2>
        ${cylinder.valves.map((one) => valve(cylinder.number, one, last))}</section>`)}
      ${notes.length ? html`<section><h2>${words.notes}</h2><ul class="plain">${notes.map((note) => html`<li>${sentence(said(note))}</li>`)}</ul></section>` : ''}
      ${worstOne ? html`<section class="cautions">${shared().cautions.map((text) => html`<p>${text}</p>`)}</section>` : ''}
    </div>
    ${facts()}
  </main>`;
}
