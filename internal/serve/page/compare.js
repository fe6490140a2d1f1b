// An earlier inspection beside this one: each valve as seen along its stem, both states on each other, the divider between.
import { html } from './lit/lit-html.js';
import { state, call, jobPath, changed, say } from './state.js';
import { words, shared, said, locale } from './words.js';
import { earlierOnes, cardName } from './earlier.js';
import { number, indexWords, percent, day, sentence } from './figures.js';
import { openFacts } from './report.js';

const found = { id: '', earlier: '', change: null, path: '', busy: false };

async function compareWith(event) {
  event.preventDefault();
  Object.assign(found, { id: state.sheet.id, earlier: new FormData(event.target).get('earlier'), change: null, busy: true });
  changed();
  try {
    Object.assign(found, await call(jobPath('compare'), { earlier: found.earlier, locale: locale(state.bay.locale) }));
  } catch (error) {
    say(error.message);
  }
  found.busy = false;
  changed();
}

function swipe(valve) {
  const name = words.valveOf(valve.cylinder, valve.valve);
  return html`<div class="swipe">
    <img src=${found.path + valve.before_picture} alt=${words.beforeAlt(name)} width="560" height="560">
    <img class="over" src=${found.path + valve.after_picture} alt=${words.afterAlt(name)} width="560" height="560">
    <span>${words.earlier}</span><span class="right">${words.later}</span>
    <input type="range" min="0" max="100" value="50" aria-label=${words.divider(name)}
      @input=${(event) => event.target.parentElement.style.setProperty('--at', event.target.value + '%')}>
    <i aria-hidden="true"></i></div>`;
}

// What holds for all valves that were compared is told once, below them.
function ofAll(reason) {
  const compared = found.change.valves.filter(({ verdict }) => verdict);
  return compared.length > 1 && compared.every(({ reasons }) => reasons.includes(reason));
}

function one(valve) {
  return html`<article class="changed"><h2>${words.valveLong(valve.cylinder, valve.valve)}</h2>
    <div class="both">${valve.before_picture ? swipe(valve) : ''}
    <div><p class="loud">${sentence(said(valve.outcome))}</p>
      ${valve.left_alone ? html`<p class="hint">${words.leftAlone}</p>` : ''}
      ${valve.common === null ? '' : html`<p class="hint">${words.inBoth(number(100 * valve.common))}</p>`}
      ${valve.reasons.filter((reason) => !ofAll(reason)).map((reason) => html`<p class="doubt">${sentence(said(reason))}.</p>`)}
      ${valve.residue ? html`<details><summary>${words.residue}</summary><img src=${found.path + valve.residue} alt=${words.residue} loading="lazy"></details>` : ''}
    </div></div></article>`;
}

function cell(figure, write) {
  if (figure.before === null) return html`<td>–</td>`;
  return html`<td><b>${write(figure.before)} → ${write(figure.after)}</b>
    ${figure.low === null ? '' : html`<small>${signed(figure.difference)} ${words.range(signed(figure.low), signed(figure.high))}</small>`}</td>`;
}

const signed = (points) => number(points).replace(/^-0$/, '0').replace('-', '\u2212'); // never a minus before 0

const row = (name, changed, remark = '', kind = '') => html`<tr class=${kind}><th scope="row">${name}
  ${[words.verdictsBrief[changed.index_alone ? 'index alone' : changed.verdict], remark].filter(Boolean).map((small) => html`<small>${small}</small>`)}</th>
  ${cell(changed.dark, percent)}${cell(changed.index, indexWords)}</tr>`;

// The engine and its cylinders, the means of their valves, and below each cylinder its valves.
function table(change) {
  const valves = (cylinder) => change.valves.filter((valve) => valve.cylinder === cylinder.number);
  return html`<div class="scroll" tabindex="0" role="group" aria-label=${words.changedTable}><table class="changes">
    <thead><tr><td></td><th scope="col">${shared().dark}</th><th scope="col">${shared().index}</th></tr></thead>
    <tbody>${row(words.valvesOf(change.compared, change.of), change.engine, '', 'whole-engine')}
    ${change.cylinders.map((cylinder) => html`${row(words.cylinder(cylinder.number), cylinder, cylinder.left_alone ? words.leftAloneBrief : cylinder.method)}
      ${valves(cylinder).length > 1 ? valves(cylinder).map((valve) => row(words.valve(valve.valve), valve, '', 'of-cylinder')) : ''}`)}</tbody></table>
    <p class="hint">${words.changedKey}</p></div>`;
}

function results() {
  const { change } = found;
  return html`<p class="loud">${change.headline}</p>
    <p>${[change.before, change.after].map((side) => `${day(side.date)}, ${side.odometer}`).join(' → ')}</p>
    ${table(change)}
    ${change.valves.map(one)}
    ${change.chart ? html`<section><h2>${words.growth}</h2><img class="growth" src=${found.path + 'growth'} alt=${words.growth}></section>` : ''}
    ${[...change.notes, ...change.growth].map((note) => html`<p class="hint">${sentence(said(note))}</p>`)}
    <section class="cautions">${shared().cautions.map((text) => html`<p>${text}</p>`)}</section>`;
}

export function compare() {
  const others = earlierOnes();
  const mine = found.id === state.sheet.id;
  const { open } = state.sheet;
  return html`<main class="comparing">
    <div class="work">${mine && found.change ? results() : open.length ? openFacts(words.compareOpen)
      : html`<p class="hint">${others.length ? words.compareHint : words.noOther}</p>`}</div>
    ${others.length && !open.length ? html`<form class="sheet-facts" @submit=${compareWith}>
      <h2>${words.compareWith}</h2>
      <label class="field"><span>${words.earlierInspection}</span><select name="earlier">${others.map((card) =>
        html`<option value=${card.id} ?selected=${mine && card.id === found.earlier}>${cardName(card)}</option>`)}</select></label>
      <button class="main" ?disabled=${found.busy}>${found.busy ? words.comparing : words.compareNow}</button>
      ${found.busy ? html`<progress aria-label=${words.comparing}></progress>` : ''}
    </form>` : ''}
  </main>`;
}
