// What the archive knows: the search box, a vehicle with its visits, and the last visit beside today's.
import { html, nothing } from './lit/lit-html.js';
import { state, call, jobPath, changed, say, start } from './state.js';
import { words, said, locale } from './words.js';
import { address, remembered } from './address.js';
import { plate, gradeWords, figures, steps, day, number, today, sentence } from './figures.js';

const memory = { text: '', failed: '', found: null, slow: 0, vehicle: null, path: '', visits: {}, shown: 0, asked: '' };

// Asks a little after the last letter was typed; only the answer to the last question counts.
function look(event) {
  memory.text = event.target.value;
  clearTimeout(memory.slow);
  memory.slow = setTimeout(async () => {
    const text = memory.text.trim();
    if (!text) {
      memory.found = null;
      changed();
      return;
    }
    try {
      const found = await call(`/api/archive/find?text=${encodeURIComponent(text)}`);
      if (memory.text.trim() === text) memory.found = found;
    } catch (error) {
      say(error.message);
    }
    changed();
  }, 150);
}

export function search() {
  if (!state.bay.archive) return '';
  const { found } = memory;
  return html`<search class="search">
    <h2 id="archive-title">${words.archive}</h2>
    <label class="field"><span>${words.searchFor}</span>
      <input type="search" .value=${memory.text} @input=${look} autocomplete="off" spellcheck="false" maxlength="200"></label>
    <div role="status">${found === null ? '' : html`<p class="hint">${found.length ? words.foundVehicles(found.length) : words.foundNone(memory.text)}</p>`}</div>
    ${found?.length ? html`<ul class="cards">${found.map((one) => html`<li><a href=${remembered('vehicle', one.id)}>
      <strong>${plate(one)} ${one.vehicle}</strong>
      <span>${[one.plate, one.vin, one.engine_family, words.visitCount(one.inspections), one.last && words.lastOn(day(one.last))].filter(Boolean).join(' · ')}</span>
    </a></li>`)}</ul>` : ''}
    <p><a class="button" href=${remembered('statistics')}>${words.statistics}</a></p>
  </search>`;
}

async function load(id) {
  memory.asked = id;
  memory.vehicle = null;
  memory.failed = '';
  try {
    const answer = await call(`/api/archive/vehicles/${encodeURIComponent(id)}?locale=${locale(state.bay.locale)}`);
    if (memory.asked !== id) return;
    Object.assign(memory, answer, { shown: answer.vehicle.seen.at(-1)?.id ?? 0 });
    if (memory.shown) void show(memory.shown);
  } catch (error) {
    memory.failed = error.message;
  }
  changed();
}

async function show(id) {
  memory.shown = id;
  changed();
  try {
    memory.visits[id] ??= await call(`/api/archive/inspections/${id}`);
  } catch (error) {
    say(error.message);
  }
  changed();
}

async function begin(event) {
  event.preventDefault();
  try {
    const { id } = await call(`/api/archive/vehicles/${memory.vehicle.id}/begin`, { name: new FormData(event.target).get('name') });
    await start();
    location.hash = address(id, 'photos');
  } catch (error) {
    say(error.message);
  }
}

const when = (visit) => `${day(visit.day)}, ${number(visit.odometer)} ${visit.odometer_unit}`;

function photos(valve, name) {
  return html`<div class="strip">${valve.photos.map((hash) => html`<img src=${`/api/archive/photos/${hash}`} alt=${name} loading="lazy"
    @error=${(event) => { event.target.replaceWith(document.createTextNode(words.photoGone)); }}>`)}
    ${valve.photos.length ? '' : html`<span class="none">${words.photoCount(0)}</span>`}</div>`;
}

function pastVisit(visit) {
  return html`${visit.cylinders.map((cylinder) => html`<section class="cylinder" aria-labelledby=${`past-${cylinder.number}`}>
    <h2 id=${`past-${cylinder.number}`}>${words.cylinder(cylinder.number)} ${plate(cylinder)}<span>${gradeWords(cylinder)}</span></h2>
    <div class="past">${cylinder.valves.map((valve) => html`<article class="valve-past">${photos(valve, words.valveLong(cylinder.number, valve.number))}
      <h3>${words.valveLong(cylinder.number, valve.number)}</h3><p>${plate(valve)} ${gradeWords(valve)} ${steps(valve)}</p>${figures(valve)}</article>`)}</div></section>`)}`;
}

export const vehicleName = () => memory.vehicle?.vehicle ?? words.archive;

export function vehicle(at) {
  if (memory.asked !== at.detail) void load(at.detail);
  const { vehicle: one, path } = memory;
  if (!one) return html`<main class="wait"><p role="status">${sentence(memory.failed) || words.opening}</p></main>`;
  const visit = memory.visits[memory.shown];
  return html`<main class="remembered">
    <div class="work">
      <dl class="facts">${[[words.plate, one.plate], [words.vin, one.vin], [words.family, one.engine_family]].filter(([, value]) => value).map(([name, value]) =>
        html`<div><dt>${name}</dt><dd>${value}${name === words.vin && one.vin_check === 'wrong' ? html` <small>${words.vinOdd}</small>` : ''}</dd></div>`)}</dl>
      ${memory.vehicle.chart ? html`<figure><img class="growth" src=${path + 'growth'} alt=${words.growth}><figcaption>${words.growth}</figcaption></figure>` : ''}
      ${one.growth.map((note) => html`<p class="hint">${sentence(said(note))}</p>`)}
      ${visit ? html`<h2>${when(visit)}, ${words.stages[visit.stage]}</h2>${pastVisit(visit)}` : ''}
    </div>
    <aside class="sheet-facts">
      <h2>${words.visits}</h2>
      <ul class="visits">${[...one.seen].reverse().map((kept) => html`<li><button aria-pressed=${kept.id === memory.shown} @click=${() => show(kept.id)}>
        ${plate(kept)} <span>${when(kept)}<small>${[words.stages[kept.stage], kept.technician, kept.job].filter(Boolean).join(' · ')}</small></span></button></li>`)}</ul>
      <form @submit=${begin}><h2>${words.resume}</h2>
        <label class="field"><span>${words.newName}</span><input name="name" required maxlength="80" .value=${today() + ' ' + one.vehicle.replace(/[^\p{L}\p{N} ._-]/gu, '_')}></label>
        <p><button class="main">${words.begin}</button></p></form>
    </aside>
  </main>`;
}

// The last visit of the vehicle whose inspection is shown: asked for when the sheet changed and nothing is being read.
const last = { key: '', visit: null, busy: false };

async function ask(key) {
  last.busy = true;
  try {
    const { visit } = await call(jobPath('last'));
    last.visit = visit;
  } catch {
    last.visit = null; // today's figures stand without it
  }
  last.key = key;
  last.busy = false;
  changed();
}

export function lastVisit() {
  if (!state.bay.archive || !(state.sheet.facts.vehicle || state.sheet.facts.plate || state.sheet.facts.vin)) return null;
  const key = `${state.sheet.id} ${state.sheet.revision}`;
  if (last.key !== key && !last.busy && !state.sheet.reading) void ask(key);
  return last.key.startsWith(`${state.sheet.id} `) ? last.visit : null;
}

export function lastTold(visit) {
  return visit ? html`<p class="last-visit">${words.lastVisit}: <a href=${remembered('vehicle', visit.vehicle_id)}>${when(visit)}</a>, ${words.stages[visit.stage]}</p>` : '';
}

export function lastOfValve(visit, cylinder, number) {
  const valve = visit?.cylinders[cylinder - 1]?.valves[number - 1];
  if (!valve) return '';
  return html`<div class="before-today"><h4>${words.lastVisit}, ${day(visit.day)}</h4>
    ${valve.photos.length ? photos({ photos: valve.photos.slice(0, 1) }, `${words.valveLong(cylinder, number)}, ${day(visit.day)}`) : nothing}
    <div><p>${plate(valve)} ${gradeWords(valve)} ${steps(valve)}</p>${figures(valve)}
    ${valve.outcome ? html`<p class="advice">${words.sinceThen}: ${said(valve.outcome)}</p>` : ''}</div></div>`;
}

async function keep(event) {
  const { target } = event;
  target.disabled = true;
  try {
    const { outcome } = await call(jobPath('keep'), {});
    say(words.kept[outcome] ?? outcome);
  } catch (error) {
    say(error.message);
  }
  target.disabled = false;
}

export const keeping = () => (state.bay.archive ? html`<button type="button" @click=${keep}>${words.intoArchive}</button>` : '');
