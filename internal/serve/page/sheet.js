// The contact sheet: what arrived last with its verdict, the engine, all photos in order of shooting.
import { html } from './lit/lit-html.js';
import { repeat } from './lit/directives/repeat.js';
import { state, act, changed, picture } from './state.js';
import { words, said } from './words.js';
import { address, place as here } from './address.js';
import { engine, carry, assign } from './engine.js';
import { plate, gradeWords, nameWords, number, figures, ruler, steps, advice, buildUp, told, sentence } from './figures.js';
import { bring, dismiss, canDrop } from './bring.js';
import { typed, keys } from './keys.js';

const main = (shot) => shot.seen.reduce((worst, one) =>
  (one.grade !== null && (worst === null || one.index > worst.index) ? one : worst), null) ?? shot.seen[0] ?? null;

const valveNames = (shot) => shot.valves.map((valve) => `${shot.cylinder}.${valve}`).join(' ');

function chosen(event) {
  bring([...event.target.files]);
  event.target.value = '';
}

function ways() {
  return html`<div class="ways">
    <label class="button main"><input type="file" accept="image/*" capture="environment" @change=${chosen}>${words.take}</label>
    <label class="button"><input type="file" accept="image/*,.heic,.heif,.tif,.tiff" multiple @change=${chosen}>${words.add}</label>
  </div>`;
}

// What the last photo came to, in one sentence and one picture.
function verdict() {
  const last = state.sheet.shots.find((shot) => shot.file === state.sheet.last);
  if (last?.state !== 'good' && last?.state !== 'refused') return '';
  const figure = main(last);
  const refusing = figure?.reasons.find((reason) => reason.refuses);
  const next = state.sheet.next.split('.');
  return html`<section class="verdict ${last.state}" aria-live="polite" aria-atomic="true">
    ${last.picture ? html`<a class="last" href=${address(state.sheet.id, 'photo', last.file)}><img src=${picture(last, 'marked')} alt=""
      width=${last.width} height=${last.height}></a>` : ''}
    <div>
      ${refusing ? html`<p class="loud">${words.retake} ${told(refusing).short}</p><p>${sentence(told(refusing).advice)}.</p>`
        : html`<p class="loud">${words.good} ${plate(figure, true)} ${gradeWords(figure)} ${steps(figure)}</p>
          ${figures(figure)}${ruler(figure)}${advice(figure)}${buildUp(figure)}
          ${figure.reasons.map(told).map((reason) => html`<p class="doubt">${sentence(reason.short)}: ${reason.advice}.</p>`)}`}
      <p class="next">${next.length === 2 ? words.next(...next) : state.sheet.facts.cylinders ? words.allDone : ''}</p>
      <p class="file">${last.file}${last.waited_ms ? html` · ${words.took(number(last.waited_ms / 1000, 1))}` : ''}</p>
    </div>
  </section>`;
}

function select(shot, event) {
  const shots = state.sheet.shots;
  const at = shots.indexOf(shot);
  const on = event.target.checked;
  if (event.shiftKey || select.shift) {
    const [from, to] = [select.last ?? at, at].sort((a, b) => a - b);
    for (const one of shots.slice(from, to + 1)) state.selected[on ? 'add' : 'delete'](one.file);
  } else state.selected[on ? 'add' : 'delete'](shot.file);
  select.last = at;
  changed();
}

function tile(shot, place) {
  const figure = main(shot);
  const refusing = shot.state === 'refused' ? figure?.reasons.find((reason) => reason.refuses) : null;
  const standing = shot.state === 'arriving' || shot.state === 'reading' ? words.arriving
    : refusing ? `${words.retake} ${told(refusing).short}` : gradeWords(figure);
  const where = shot.valves.length ? words.valveOf(shot.cylinder, shot.valves.join(' + ')) : words.noValve;
  return html`<li class="tile ${shot.state} ${shot.left_out ? 'out' : ''} ${state.selected.has(shot.file) ? 'selected' : ''}" data-valves=${valveNames(shot)}
    data-file=${shot.file} tabindex=${place === 0 ? 0 : -1} aria-label=${`${shot.file}, ${where}, ${standing}`}
    draggable="true" @dragstart=${(event) => carry(event, shot.file)}>
    <a class="frame" href=${address(state.sheet.id, 'photo', shot.file)} tabindex="-1" draggable="false" aria-hidden="true">
      ${shot.picture ? html`<img src=${picture(shot, 'small')} alt="" loading="lazy" decoding="async" draggable="false">` : html`<i class="blank">${shot.file}</i>`}
    </a>
    <label class="pick"><input type="checkbox" tabindex="-1" .checked=${state.selected.has(shot.file)} @click=${(event) => { select.shift = event.shiftKey; }}
      @change=${(event) => select(shot, event)} aria-label=${words.select(shot.file)}><i></i></label>
    <div class="told">
      <span class="valve ${shot.valves.length ? '' : 'open'}">${shot.valves.length ? valveNames(shot) : words.which}</span>
      <span class="what">${shot.state === 'good' ? html`<span class="says ${figure.perhaps_to == null ? 'short' : ''}">${plate(figure)}${nameWords(figure)}</span> ${steps(figure)}` : refusing ? html`${plate(null)}${told(refusing).short}` : standing}</span>
      ${shot.left_out ? html`<span class="note">${words.leftOut}</span>` : shot.marks ? html`<span class="note">${words.byHand}</span>` : ''}
    </div>
  </li>`;
}

let each = 1;
const free = () => state.sheet.shots.filter((shot) => shot.state === 'good' && !shot.valves.length);

async function inOrder(event) {
  event.preventDefault();
  const files = [...state.selected];
  if (await act('order', { files, order: order.trim(), each })) {
    for (const file of files) state.selected.delete(file);
    changed();
  }
}

let order = '';

async function byPattern(event) {
  event.preventDefault();
  await act('names', { pattern: new FormData(event.target).get('pattern').trim() });
}

// What is needed once a year: another order than cylinder 1 first, names of one's own.
function otherWays() {
  return html`<details class="more"><summary>${words.otherWays}</summary>
    ${state.sheet.facts.cylinders ? html`<label class="field"><span>${words.orderOfValves}</span><input .value=${order} maxlength="200" spellcheck="false"
      placeholder="1.1, 1.2, 3.1, 3.2" @input=${(event) => { order = event.target.value; changed(); }}></label>
      <p class="hint">${words.orderHint}</p>` : ''}
    <form class="row" @submit=${byPattern}><label class="field"><span>${words.pattern}</span>
      <input name="pattern" required maxlength="200" spellcheck="false" autocapitalize="off" placeholder="cyl{cylinder}_{valve}"></label>
      <button>${words.names}</button></form>
    <p class="hint">${words.patternHint}</p>
  </details>`;
}

function tools() {
  const open = free();
  const n = state.selected.size || open.length;
  return html`<div class="tools">
    ${state.sheet.facts.cylinders ? '' : html`<p class="hint">${words.engineFirst}</p>`}
    ${state.sheet.facts.cylinders ? html`<form class="order" @submit=${inOrder} ?hidden=${!n}>
      <span>${words.order}:</span>
      <label><select .value=${String(each)} aria-label=${words.orderEach(each)} @change=${(event) => { each = Number(event.target.value); changed(); }}>
        ${[1, 2, 3, 4, 5].map((k) => html`<option ?selected=${k === each}>${k}</option>`)}</select> ${words.orderEach(each)}</label>
      <button>${words.orderGo(n)}</button>
    </form>` : ''}
    ${open.length ? html`<button class="quiet" @click=${() => act('names', { pattern: '' })}>${words.names}</button>
      <button class="quiet" @click=${() => { for (const shot of open) state.selected.add(shot.file); changed(); }}>${words.selectAll}</button>` : ''}
    ${open.length ? otherWays() : ''}
    ${state.sheet.facts.cylinders ? html`<label class="check"><input type="checkbox" .checked=${state.sheet.follow > 0}
      @change=${(event) => act('follow', { each: event.target.checked ? each : 0 })}> ${words.follow}</label>` : ''}
    ${state.sheet.undo ? html`<button class="quiet" @click=${() => act('undo')}>${words.undo(said(state.sheet.undo))}</button>` : ''}
  </div>`;
}

function selection() {
  const n = state.selected.size;
  if (!n) return '';
  const files = [...state.selected];
  return html`<div class="selection" role="status"><b>${words.selectedCount(n)}</b>
    <span>${typed() ? words.typed(typed()) : words.assignHere(n)}</span>
    <button class="quiet" @click=${() => assign(files, 0, [])}>${words.takeAway}</button>
    <button class="quiet" @click=${() => { state.selected.clear(); changed(); }}>${words.selectNone}</button></div>`;
}

function arrivals() {
  if (!state.bringing.length) return '';
  return html`<ul class="bringing" role="status">${state.bringing.map((one) => html`<li class=${one.failed ? 'failed' : ''}>
    <span>${one.name}</span>${one.failed ? html`<em>${sentence(one.failed)}</em><button class="quiet" @click=${() => dismiss(one)}>${words.close}</button>`
    : html`<progress max="1" .value=${one.share} aria-label=${one.name}></progress>`}</li>`)}</ul>`;
}

function empty() {
  return html`<section class="empty"><h2>${words.emptyTitle}</h2>
    <ul>${words.emptyWays.map((way) => html`<li>${way.replace('{folder}', state.sheet.name)}</li>`)}</ul></section>`;
}

// How many photos are still to be read.
export function reading() {
  const { shots, reading: n } = state.sheet;
  return n ? html`<p class="reading" role="status"><progress max=${shots.length} .value=${shots.length - n} aria-label=${words.reading(n)}></progress>
    ${words.reading(n)}</p>` : '';
}

export function sheet() {
  const { shots } = state.sheet;
  return html`<main class="photos">
    ${state.sheet.fault ? html`<div class="fault" role="alert">${state.sheet.fault.split('\n').map((line) => html`<p>${sentence(said(line))}</p>`)}</div>` : ''}
    <div class="side">${ways()}${arrivals()}${engine()}</div>
    <div class="work">
      ${verdict()}
      ${reading()}
      ${shots.length ? html`${tools()}${selection()}
      <ul class="tiles" aria-label=${words.sheetLabel} aria-describedby="sheet-keys" @keydown=${keys}>${repeat(shots, (shot) => shot.file, tile)}</ul>
      <p id="sheet-keys" class="hint">${words.sheetKeys}</p>` : empty()}
    </div>
  </main>`;
}

// Photos can be dropped anywhere and pasted anywhere while an inspection is shown; the last one is still known after that.
const shown = () => state.sheet !== null && state.sheet.id === here().id;

addEventListener('dragover', (event) => {
  if (!canDrop(event)) return;
  event.preventDefault();
  if (shown()) document.body.dataset.drop = words.drop;
});
addEventListener('dragleave', (event) => { if (!event.relatedTarget) delete document.body.dataset.drop; });
addEventListener('drop', (event) => {
  delete document.body.dataset.drop;
  if (!canDrop(event)) return;
  event.preventDefault(); // or the browser leaves the page for the photo
  if (shown()) bring([...event.dataTransfer.files]);
});
addEventListener('paste', (event) => {
  const files = [...(event.clipboardData?.files ?? [])];
  if (files.length && shown()) bring(files);
});
