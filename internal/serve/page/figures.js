// How grades and figures are shown.
import { html, svg } from './lit/lit-html.js';
import { state } from './state.js';
import { words, shared, said, fill, locale, day as dayIn } from './words.js';

export function number(value, digits = 0) {
  if (value === null || value === undefined) return '–';
  return new Intl.NumberFormat(locale(state.bay.locale), { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(value);
}

export const day = (text) => dayIn(text, locale(state.bay.locale));

// The time of a photo, YYYY-MM-DDThh:mm:ss in no zone.
export function moment(text) {
  const date = new Date(text);
  return Number.isNaN(date.valueOf()) ? text : new Intl.DateTimeFormat(locale(state.bay.locale), { dateStyle: 'long', timeStyle: 'short' }).format(date);
}

export const today = () => new Date().toLocaleDateString('sv'); // which writes YYYY-MM-DD

export const percent = (value) => `${number(value)}\u00a0%`;
const likely = (certainty) => percent(Math.round(100 * certainty));

export const known = (figure) => figure?.grade !== null && figure?.grade !== undefined;
export const gradeName = (grade) => shared().grades[grade].name;
const className = (name) => shared().classes[name];

// The plate carries a grade in the colour of the ramp; dashed, none.
export function plate(figure, large = false) {
  const none = !known(figure);
  return html`<b class="plate ${none ? 'none' : 'g' + figure.grade} ${large ? 'large' : ''}" aria-hidden="true">${none ? '–' : figure.grade}</b>`;
}

export function gradeWords(figure) {
  if (!known(figure)) return words.notGraded;
  const doubt = perhaps(figure) || (figure.borderline ? shared().borderline : '');
  return words.gradeOf(figure.grade, gradeName(figure.grade)) + (doubt ? ` (${doubt})` : '');
}

// The likeliest grade, where that is another than the index has, or several.
function perhaps(figure) {
  const { perhaps: from = null, perhaps_to: to = null } = figure;
  if (from === null) return '';
  return to === null ? fill(shared().perhaps, from) : fill(shared().perhaps_run, from, to);
}

// What stands beside a plate where there is little room: the grade's name, or "perhaps 4".
export const nameWords = (figure) => perhaps(figure) || gradeName(figure.grade);

// Dark deposit first: how much crust a customer sees. Then the index of the scale.
export function figures(figure) {
  if (!known(figure)) return '';
  return html`${figure.dark === null ? '' : html`<p class="figures dark">${interval(shared().dark, percent(figure.dark), number(figure.dark_low), number(figure.dark_high))}</p>`}
    <p class="figures">${interval(shared().index, indexWords(figure.index), number(figure.low), number(figure.high))}</p>`;
}

// An index is written so that it keeps its grade: 39.9, which rounds to 40, is grade 2.
const place = (index) => [2, 15, 40, 70].filter((limit) => index >= limit).length;
const digits = (index) => [0, 1].find((some) => place(Number(index.toFixed(some))) === place(index)) ?? 2;
export const indexWords = (index) => (index === null ? number(index) : number(index, digits(index)));

function interval(name, value, low, high) {
  return html`<span>${name}</span> <b>${value}</b> <small>${words.range(low, high)}</small>`;
}

// The scale with the interval on it: five grades in their widths, a bar from low to high, a tick at the index.
const limits = [0, 2, 15, 40, 70, 100];
export function ruler(figure) {
  if (!known(figure)) return '';
  return html`<svg class="ruler" viewBox="0 0 100 9" preserveAspectRatio="none" aria-hidden="true">
    ${limits.slice(1).map((end, grade) => svg`<rect class="g${grade}" x=${limits[grade]} y="0" width=${end - limits[grade]} height="3.4"/>`)}
    <rect class="span" x=${figure.low} y="5" width=${Math.max(0.6, figure.high - figure.low)} height="1.4"/>
    <rect class="mark" x=${Math.min(99.2, Math.max(0, figure.index - 0.4))} y="3.4" width="0.8" height="5.6"/>
  </svg>`;
}

// How likely each grade is, as five small steps in the colours of the ramp.
export function steps(figure) {
  if (!figure?.probabilities?.length) return '';
  const told = figure.probabilities.map((share, grade) => `${grade} ${gradeName(grade)} ${percent(100 * share)}`);
  return html`<svg class="steps" viewBox="0 0 54 22" role="img" aria-label=${`${words.likely}: ${told.join(', ')}`}><title>${told.join('\n')}</title>
    ${figure.probabilities.map((share, grade) => {
      const height = Math.max(1.2, 20 * share);
      return svg`<rect class="g${grade}" x=${11 * grade + 0.5} y=${21 - height} width="9" height=${height}/>`;
    })}<path d="M0 21.5H54"/></svg>`;
}

// Whether a cleaning is due, in two words, with how likely that is.
export function due(figure) {
  if (!figure?.decision) return '';
  return html`<span class="due">${words.due[figure.decision]} ${likely(figure.certainty)}</span>`;
}

// The same as a sentence, with what is commonly done then.
export function advice(figure) {
  if (!figure?.decision) return '';
  const parts = [likely(figure.certainty)];
  if (figure.practice !== null) parts.push(practice(figure.practice));
  return html`<p class="advice">${fill(shared().decisions[figure.decision], ...parts)}</p>`;
}

function practice(grade) {
  const { soonest, latest, grades } = shared();
  const [unit, factor] = /km/i.test(state.sheet?.facts.odometer || words.odometerExample) ? ['km', 1.609344] : ['mi', 1];
  const again = `${[soonest, latest].map((miles) => number(1000 * Math.round((miles * factor) / 1000))).join('–')}\u00a0${unit}`;
  return fill(grades[grade].practice, again);
}

// Of metal that is bare nobody asks how thick its crust is.
export function buildUp(figure, photos = 1) {
  if (!figure?.build_up || (figure.build_up === 'unknown' && !(figure.dark >= 5))) return '';
  return html`<p class="build-up">${words.buildUp[figure.build_up === 'unknown' && photos > 1 ? 'unknownSeveral' : figure.build_up]}</p>`;
}

const classes = ['bare', 'film', 'medium', 'heavy'];
export function shares(values) {
  if (!values?.length) return '';
  let at = 0;
  return html`<svg class="shares" viewBox="0 0 100 4" preserveAspectRatio="none" role="img"
    aria-label=${values.map((v, n) => `${className(classes[n])} ${percent(100 * v)}`).join(', ')}>
    ${values.map((v, n) => {
      const x = at;
      at += 100 * v;
      return svg`<rect class=${classes[n]} x=${x} y="0" width=${100 * v} height="4"/>`;
    })}</svg>
    <ul class="legend" aria-hidden="true">${values.map((v, n) => html`<li><i class=${classes[n]}></i>${className(classes[n])} ${percent(100 * v)}</li>`)}</ul>`;
}

// A sentence of the program, which begins without a capital, as it stands alone; the name of a file stays as it is. No line
// ends between a number and its %.
export function sentence(text) {
  const named = isFile.test(text) || state.sheet?.shots?.some(({ file }) => text.startsWith(file));
  const alone = named ? text : text.replace(/^\p{Ll}/u, (letter) => letter.toLocaleUpperCase(locale()));
  return alone.replace(/(\d) %/g, '$1\u00a0%');
}
const isFile = /^[^\s:;,]+\.[a-z]\w{1,4}(?![\w.])/i;

// A reason against a photo, in the language that is spoken.
export const told = ({ short, advice }) => ({ short: said(short), advice: said(advice) });
