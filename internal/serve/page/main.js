// The page: one address for each view, one render for each change.
import { html, render } from './lit/lit-html.js';
import { state, start, listen, lookAgain, subscribe, say } from './state.js';
import { words, names, choose } from './words.js';
import { address, place } from './address.js';
import { enter } from './enter.js';
import { list } from './list.js';
import { sheet } from './sheet.js';
import { sentence } from './figures.js';
import { photo } from './photo.js';
import { result } from './result.js';
import { compare } from './compare.js';
import { report } from './report.js';
import { vehicle, vehicleName } from './memory.js';
import { statistics } from './statistics.js';

// What the archive knows has addresses of its own.
const remembered = { vehicle, statistics };
const views = { photos: sheet, photo, result, compare, report };

const tabs = ['photos', 'result', 'compare', 'report'];

function head(at) {
  const inspection = state.sheet;
  return html`<header class="bar">
    <a class="home" href="#/" aria-label=${words.allInspections}><img src="/page/icon.svg" alt="" width="28" height="28"></a>
    <h1>${inspection.facts.vehicle || inspection.name}</h1>
    <nav aria-label=${words.views}>${tabs.map((tab) => html`
      <a href=${address(at.id, tab)} aria-current=${at.view === tab || (tab === 'photos' && at.view === 'photo') ? 'page' : 'false'}>${words.tabs[tab]}</a>`)}
    </nav>
  </header>`;
}

function headOfArchive(at) {
  return html`<header class="bar">
    <a class="home" href="#/" aria-label=${words.allInspections}><img src="/page/icon.svg" alt="" width="28" height="28"></a>
    <h1>${at.archive === 'vehicle' ? vehicleName() : words.statistics}</h1></header>`;
}

// An inspection that is not there yet, or no more: an old address leads back to the others.
const absent = () => html`<main class="wait">${state.failed ? html`<p role="alert">${sentence(state.failed)}</p>
  <p><a class="button" href="#/">${words.allInspections}</a></p>` : html`<p>${words.opening}</p>`}</main>`;

function body(at) {
  if (state.locked) return enter();
  if (state.failed && !state.bay) return html`<main class="wait"><p role="alert">${sentence(state.failed)}</p></main>`;
  if (!state.bay) return html`<main class="wait"><p>${words.opening}</p></main>`;
  if (at.archive in remembered && state.bay.archive) return html`${headOfArchive(at)}${remembered[at.archive](at)}`;
  if (!at.id) return list();
  if (!state.sheet || state.sheet.id !== at.id) return absent();
  return html`${head(at)}${(views[at.view] ?? sheet)(at)}`;
}

async function choosing(event) {
  choose(event.target.value);
  if (state.bay) await start();
  draw();
}

const foot = () => html`<footer><label>${words.chooseLanguage} <select @change=${choosing}>${names.map(([tag, name]) =>
  html`<option value=${tag} lang=${tag} ?selected=${tag === document.documentElement.lang}>${name}</option>`)}</select></label></footer>`;

function notices() {
  return html`
    <div class="lost" role="status" ?hidden=${!state.lost}>${words.lost}</div>
    <div class="said" role="alert" ?hidden=${!state.said}>${state.said ? html`<span>${sentence(state.said)}</span>
      <button class="quiet" @click=${() => say('')}>${words.close}</button>` : ''}</div>`;
}

let asked = false;
function draw() {
  if (asked) return;
  asked = true;
  queueMicrotask(() => {
    asked = false;
    const at = place();
    document.title = (at.id && state.sheet ? (state.sheet.facts.vehicle || state.sheet.name) + ' – ' : '') + 'valvegrade';
    render(html`${body(at)}${foot()}${notices()}`, document.getElementById('app'));
  });
}

function moved() {
  const at = place();
  state.said = ''; // it was of the view before
  listen(at.id);
  draw();
  scrollTo(0, 0);
}

// The views that tell of other inspections than the one that is shown.
const tellsOfOthers = ({ id, archive, view }) => (id ? view === 'compare' || view === 'report' : !archive);

function movedOn() {
  moved();
  if (tellsOfOthers(place())) void lookAgain();
}

subscribe(draw);
addEventListener('hashchange', movedOn);
document.addEventListener('visibilitychange', () => { if (!document.hidden && tellsOfOthers(place())) void lookAgain(); });
const code = location.hash.match(/^#code=(.+)$/);
if (code) history.replaceState(null, '', '#/');
const began = start(code?.[1]);
if (!code) listen(place().id); // both are asked for at once
await began;
if (!state.locked && !place().id && !place().archive && state.bay?.inspections.length === 1) history.replaceState(null, '', address(state.bay.inspections[0].id, 'photos'));
moved();
