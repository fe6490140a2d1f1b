// One photo, large: what was measured, which valve it shows, whether it counts; the outline and the classes by hand.
import { html } from './lit/lit-html.js';
import { live } from './lit/directives/live.js';
import { state, act, changed, picture, signAs } from './state.js';
import { words } from './words.js';
import { address, place as here } from './address.js';
import { assign, valveNumbers } from './engine.js';
import { begin, board, edit, end, tools } from './outline.js';
import { plate, gradeWords, number, percent, figures, ruler, steps, advice, buildUp, shares, told, sentence, moment } from './figures.js';

let plain = false;
let leaving = '';

function step(by) {
  const { shots } = state.sheet;
  const at = shots.findIndex((shot) => shot.file === here().detail);
  const to = shots[at + by];
  if (to) location.hash = address(state.sheet.id, 'photo', to.file);
}

async function leaveOut(event, shot) {
  event.preventDefault();
  const form = new FormData(event.target);
  signAs(form.get('by'));
  if (await act('leave-out', { file: shot.file, who: { by: form.get('by'), reason: form.get('reason') } })) {
    leaving = '';
    changed();
  }
}

function leaveOutForm(shot) {
  if (shot.left_out) {
    return html`<p class="signed">${words.leftOutBy(shot.left_out)}</p>
      <button @click=${() => act('leave-out', { file: shot.file, who: null })}>${words.countAgain}</button>`;
  }
  if (!shot.valves.length) return '';
  if (leaving !== shot.file) return html`<button class="quiet" @click=${() => { leaving = shot.file; changed(); }}>${words.leaveOut}</button>`;
  return html`<form class="sign" @submit=${(event) => leaveOut(event, shot)}>
    <label class="field"><span>${words.yourName}</span><input name="by" required maxlength="200" .value=${state.by}></label>
    <label class="field"><span>${words.reason}</span><input name="reason" required maxlength="500"></label>
    <div class="row"><button class="main">${words.leaveOut}</button>
    <button type="button" class="quiet" @click=${() => { leaving = ''; changed(); }}>${words.cancel}</button></div>
  </form>`;
}

// All valves of the engine, and for a photo of several all valves of a cylinder.
function places(shot) {
  const { cylinders } = state.sheet.facts;
  const found = [['', words.noValve]];
  for (let c = 1; c <= cylinders; c += 1) {
    for (const v of valveNumbers()) found.push([`${c}.${v}`, words.valveOf(c, v)]);
    if (Math.max(shot.seen.length, shot.valves.length) > 1 && valveNumbers().length > 1) {
      for (const list of [valveNumbers(), valveNumbers().reverse()]) {
        found.push([`${c}.${list.join('+')}`, `${words.cylinder(c)}, ${words.bothValves(list.join(', '))}`]);
      }
    }
  }
  return found;
}

function valvePicker(shot) {
  if (!state.sheet.facts.cylinders) return '';
  const now = shot.valves.length ? `${shot.cylinder}.${shot.valves.join('+')}` : '';
  return html`<label class="field"><span>${words.shows}</span><select .value=${live(now)} @change=${(event) => {
    const [cylinder, valves] = event.target.value.split('.');
    void assign([shot.file], Number(cylinder) || 0, valves ? valves.split('+').map(Number) : []);
  }}>${places(shot).map(([value, name]) => html`<option value=${value} ?selected=${value === now}>${name}</option>`)}</select></label>`;
}

function seen(one, place, all) {
  const refusing = one.reasons.find((reason) => reason.refuses);
  return html`<section class="seen">
    ${all.length > 1 ? html`<h3>${words.valveInPhoto(place + 1, all.length)}</h3>` : ''}
    ${refusing ? html`<p class="loud">${words.retake} ${told(refusing).short}</p>` : html`
      <p class="loud">${plate(one, true)} ${gradeWords(one)} ${steps(one)}</p>
      ${figures(one)}${ruler(one)}${advice(one)}${buildUp(one)}${shares(one.shares)}
      <dl class="facts"><div><dt>${words.coverage}</dt><dd>${percent(one.coverage)}</dd></div>
        <div><dt>${words.unreadable}</dt><dd>${percent(100 * one.unreadable)}</dd></div>
        <div><dt>${words.confidence}</dt><dd>${one.by_hand ? words.outlineByHand(one.outlined_by) : percent(100 * one.confidence)}</dd></div></dl>
      ${one.painted ? html`<p class="signed">${words.paintedBy(number(100 * one.painted), one.painted_by)}</p>` : ''}`}
    ${one.reasons.map(told).map((reason) => html`<p class="doubt"><b>${sentence(reason.short)}</b>: ${reason.advice}.</p>`)}
  </section>`;
}

export function photo(at) {
  const { shots } = state.sheet;
  const place = shots.findIndex((shot) => shot.file === at.detail);
  const shot = shots[place];
  if (!shot) return html`<main class="wait"><p><a href=${address(at.id, 'photos')}>${words.back}</a></p></main>`;
  if (edit && edit.file !== shot.file) end();
  const editing = edit?.file === shot.file;
  return html`<main class="one ${editing ? 'edited' : ''}">
    <div class="picture">
      ${editing ? board(shot) : shot.picture ? html`<img src=${picture(shot, plain ? 'plain' : 'marked')} width=${shot.width} height=${shot.height}
        alt=${`${words.photoOf(shot.file)}: ${shot.seen.map(gradeWords).join(', ')}`}>` : html`<p class="hint">${shot.file}</p>`}
    </div>
    <div class="panel">
      <nav class="row" aria-label=${words.sheetLabel}>
        <a class="button quiet" href=${address(at.id, 'photos')}>${words.back}</a>
        <button class="square" ?disabled=${place === 0} aria-label=${words.previous} @click=${() => step(-1)}>←</button>
        <span>${words.of(place + 1, shots.length)}</span>
        <button class="square" ?disabled=${place === shots.length - 1} aria-label=${words.following} @click=${() => step(1)}>→</button>
      </nav>
      <h2 class="name">${shot.file}</h2>
      ${editing ? tools() : html`${valvePicker(shot)}
      ${shot.seen.map(seen)}
      ${shot.picture ? html`<div class="row"><button @click=${() => begin(shot, 'outline')}>${words.outline}</button>
        <button @click=${() => begin(shot, 'paint')}>${words.paint}</button></div>` : ''}
      ${shot.taken ? html`<p class="file">${words.taken} ${moment(shot.taken)}</p>` : ''}
      <label class="check"><input type="checkbox" .checked=${!plain} @change=${(event) => { plain = !event.target.checked; changed(); }}> ${words.measured}</label>
      ${leaveOutForm(shot)}`}
    </div>
  </main>`;
}
