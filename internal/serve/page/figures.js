// How grades and figures are shown.
import { html, svg } from './lit/lit-html.js';
import { state } from './state.js';
import { words } from './words.js';

export function number(value, digits = 0) {
  if (value === null || value === undefined) return '–';
  return new Intl.NumberFormat(state.bay.locale, { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(value);
}

export function day(text) {
  const date = new Date(text + 'T00:00:00');
  return Number.isNaN(date.valueOf()) ? text : new Intl.DateTimeFormat(state.bay.locale, { dateStyle: 'long' }).format(date);
}

// The plate carries a grade in the colour of the ramp; dashed, none.
export function plate(figure, large = false) {
  const none = figure?.grade === null || figure?.grade === undefined;
  return html`<b class="plate ${none ? 'none' : 'g' + figure.grade} ${large ? 'large' : ''}" aria-hidden="true">${none ? '–' : figure.grade}</b>`;
}

export function gradeWords(figure) {
  if (figure?.grade === null || figure?.grade === undefined) return words.notGraded;
  return words.gradeOf(figure) + (figure.borderline ? ` (${words.borderline})` : '');
}

// The scale with the interval on it: five grades in their widths, a bar from low to high, a tick at the index.
const limits = [0, 2, 15, 40, 70, 100];
export function ruler(figure) {
  if (figure.index === null) return '';
  return html`<svg class="ruler" viewBox="0 0 100 9" preserveAspectRatio="none" aria-hidden="true">
    ${limits.slice(1).map((end, grade) => svg`<rect class="g${grade}" x=${limits[grade]} y="0" width=${end - limits[grade]} height="3.4"/>`)}
    <rect class="span" x=${figure.low} y="5" width=${Math.max(0.6, figure.high - figure.low)} height="1.4"/>
    <rect class="mark" x=${Math.min(99.2, Math.max(0, figure.index - 0.4))} y="3.4" width="0.8" height="5.6"/>
  </svg>`;
}

const classes = ['bare', 'film', 'medium', 'heavy'];
export function shares(values) {
  if (!values?.length) return '';
  let at = 0;
  return html`<svg class="shares" viewBox="0 0 100 4" preserveAspectRatio="none" role="img"
    aria-label=${values.map((v, n) => `${classes[n]} ${number(100 * v)} %`).join(', ')}>
    ${values.map((v, n) => {
      const x = at;
      at += 100 * v;
      return svg`<rect class=${classes[n]} x=${x} y="0" width=${100 * v} height="4"/>`;
    })}</svg>
    <ul class="legend" aria-hidden="true">${values.map((v, n) => html`<li><i class=${classes[n]}></i>${classes[n]} ${number(100 * v)} %</li>`)}</ul>`;
}
