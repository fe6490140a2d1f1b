// The code that lets a device in.
import { html } from './lit/lit-html.js';
import { state, start, listen } from './state.js';
import { words } from './words.js';
import { place } from './address.js';
import { sentence } from './figures.js';

async function submit(event) {
  event.preventDefault();
  await start(new FormData(event.target).get('code'));
  if (!state.locked) listen(place().id);
}

export function enter() {
  return html`<main class="enter">
    <img src="/page/icon.svg" alt="" width="72" height="72">
    <h1>${words.enterTitle}</h1>
    <p>${words.enterText}</p>
    <form @submit=${submit}>
      <label>${words.code} <input name="code" required autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength="12"
        aria-describedby="why" autofocus></label>
      <button class="main">${words.enter}</button>
    </form>
    <p id="why" role="alert">${sentence(state.failed)}</p>
  </main>`;
}
