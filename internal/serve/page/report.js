// The report: what for, and in which form.
import { html } from './lit/lit-html.js';
import { state, call, jobPath, changed, say, signAs } from './state.js';
import { address } from './address.js';
import { words, shared, said, locale } from './words.js';
import { earlierOnes, beforeCleaning, cardName } from './earlier.js';
import { sentence } from './figures.js';

const made = { busy: '', path: '', id: '' };

async function make(event) {
  event.preventDefault();
  const format = event.submitter.value;
  const form = new FormData(event.target);
  signAs(form.get('technician'));
  Object.assign(made, { busy: format, path: '', id: state.sheet.id });
  changed();
  try {
    const { path } = await call(jobPath('report'), {
      format, job: form.get('job'), customer: form.get('customer'), technician: form.get('technician'), remarks: form.get('remarks'),
      before: form.get('before') ?? '', history: form.get('history') === 'on', locale: locale(state.bay.locale),
    });
    made.path = path;
    if (format !== 'html') location.assign(path + '?download');
  } catch (error) {
    say(error.message);
  }
  made.busy = '';
  changed();
}

const formats = ['html', 'pdf', 'csv', 'json', 'txt'];

// What has to be filled in before something can be done.
export const openFacts = (before) => html`<div class="open"><p class="loud">${before}</p>
  <ul>${state.sheet.open.map((text) => html`<li>${sentence(said(text))}</li>`)}</ul>
  <p><a class="button main" href=${address(state.sheet.id, 'result')}>${words.fillIn}</a></p></div>`;

export function report() {
  const { open, facts } = state.sheet;
  const others = earlierOnes();
  const path = made.id === state.sheet.id ? made.path : '';
  const shown = path.endsWith('.html');
  return html`<main class="reporting">
    <div class="work">
      ${open.length ? openFacts(words.reportOpen)
        : shown ? html`<p><a class="button" href=${made.path} target="_blank" rel="noopener">${words.openPrint}</a></p>
          <iframe title=${words.tabs.report} src=${made.path}></iframe>`
        : path ? html`<p>${words.reportGiven} <a href=${path + '?download'} download>${decodeURIComponent(path.split('/').at(-1))}</a></p>`
        : html`<p class="hint">${words.reportHint}</p>`}
    </div>
    <form class="sheet-facts" @submit=${make}>
      <h2>${words.tabs.report}</h2>
      <label class="field"><span>${words.job}</span><input name="job" maxlength="200" .value=${facts.job}></label>
      <label class="field"><span>${words.customer}</span><input name="customer" maxlength="200"></label>
      <label class="field"><span>${words.technician}</span><input name="technician" maxlength="200" .value=${facts.technician || state.by}></label>
      <label class="field"><span>${words.remarks}</span><textarea name="remarks" maxlength="4000"></textarea></label>
      ${others.length ? html`<label class="field"><span>${facts.stage === 'after' ? words.beforeCleaning : words.earlierInspection}</span><select name="before">
        <option value="">${words.alone}</option>${others.map((card) => html`<option value=${card.id} ?selected=${card.id === beforeCleaning()}>${cardName(card)}</option>`)}</select></label>` : ''}
      ${state.bay.inspections.length > 1 ? html`<label class="check"><input type="checkbox" name="history"> ${words.history}</label>` : ''}
      <div class="row">${formats.map((format) => html`<button class=${format === 'html' ? 'main' : ''} value=${format} ?disabled=${Boolean(made.busy || open.length)}>
        ${made.busy === format ? words.making : words.formats[format]}</button>`)}</div>
      <p class="hint">${words.reportPrivacy}</p>
    </form>
    <section class="cautions">${shared().cautions.map((text) => html`<p>${text}</p>`)}</section>
  </main>`;
}
