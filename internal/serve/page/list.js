// All inspections of the folder.
import { html } from './lit/lit-html.js';
import { state, call, say, start } from './state.js';
import { words } from './words.js';
import { day, today } from './figures.js';
import { search } from './memory.js';

async function begin(event) {
  event.preventDefault();
  try {
    const { id } = await call('/api/inspections', { name: new FormData(event.target).get('name') });
    await start();
    location.hash = `#/${encodeURIComponent(id)}/photos`;
  } catch (error) {
    say(error.message);
  }
}

export function list() {
  return html`<main class="list">
    <h1><img src="/page/icon.svg" alt="" width="36" height="36"> ${state.bay.name}</h1>
    ${search()}
    <h2>${words.inspections}</h2>
    <ul class="cards">${state.bay.inspections.map((card) => html`<li><a href=${`#/${encodeURIComponent(card.id)}/photos`}>
      <strong>${card.name}</strong>
      <span>${[card.vehicle, card.date && day(card.date), words.stages[card.stage], words.photoCount(card.photos)].filter(Boolean).join(' · ')}</span>
    </a></li>`)}</ul>
    <form class="begin" @submit=${begin}>
      <h2>${words.newInspection}</h2>
      <label>${words.newName} <input name="name" required maxlength="80" .value=${today()}></label>
      <button class="main">${words.begin}</button>
    </form>
  </main>`;
}
