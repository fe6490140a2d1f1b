// What the photos say together, valve by valve, and the facts of the inspection.
import { html } from './lit/lit-html.js';
import { state, act, changed, picture, signAs } from './state.js';
import { words, shared, said } from './words.js';
import { address } from './address.js';
import { reading } from './sheet.js';
import { lastOfValve, lastTold, lastVisit } from './memory.js';
import { facts } from './facts.js';
import { plate, gradeWords, figures, ruler, steps, advice, buildUp, due, known, told, sentence } from './figures.js';

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

// Photos that were graded and given to no valve count nowhere, which nobody must find out by himself.
const withoutValve = () => state.sheet.shots.filter((shot) => !shot.valves.length && !shot.left_out && shot.seen.some(known)).length;

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
