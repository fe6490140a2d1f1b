// The statistics of the archive as charts: bars in the colours of the ramp, with the intervals on them; each has its figures
// in words, too.
import { html, svg } from './lit/lit-html.js';
import { call, changed } from './state.js';
import { words } from './words.js';
import { number, percent, gradeName, sentence } from './figures.js';

const seen = { told: null, failed: '', busy: false, at: 0 };

async function load() {
  seen.busy = true;
  try {
    seen.told = await call('/api/archive/statistics');
    seen.failed = '';
  } catch (error) {
    seen.failed = error.message;
  }
  seen.busy = false;
  seen.at = Date.now();
  changed();
}

// One row: its name, a bar on a scale of 0 to most, the interval, the figure in words.
function bar(name, share, told, { most = 100, low = null, high = null, grade = 2 } = {}) {
  const at = (value) => Math.max(0, Math.min(100, (100 * value) / most));
  return html`<li><span class="of">${name}</span>
    <svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true"><rect class="ground" x="0" y="0" width="100" height="8"/>
      ${share === null ? '' : svg`<rect class="g${grade}" x="0" y="1.4" width=${at(share)} height="5.2"/>`}
      ${low === null ? '' : svg`<path class="whisker" d=${`M${at(low)} 4H${at(high)}M${at(low)} 1.8V6.2M${at(high)} 1.8V6.2`}/>`}</svg>
    <span class="says">${told}</span></li>`;
}

const between = (figure) => (figure.value === null ? '–' : `${percent(figure.value)}${figure.low === null ? '' : ` ${words.range(number(figure.low), number(figure.high))}`}`);

function methods(list) {
  return html`<section><h2>${words.removedByMethod}</h2>
    <p class="hint">${words.removedHint}</p>
    ${list.length ? '' : html`<p>${words.noneYet}</p>`}
    <ul class="bars">${list.map((m) => bar(m.method || words.notSaid, m.dark_removed_percent.value,
      `${between(m.dark_removed_percent)}, ${words.engineCount(m.engines)}`,
      { low: m.dark_removed_percent.low, high: m.dark_removed_percent.high, grade: 1 }))}</ul></section>`;
}

function families(bands, unit) {
  const names = [...new Set(bands.map((band) => band.engine_family))];
  return html`<section><h2>${words.gradesByFamily}</h2><p class="hint">${words.gradesHint}</p>
    <ul class="legend">${[0, 1, 2, 3, 4].map((grade) => html`<li><i class="g${grade}"></i>${grade} ${gradeName(grade)}</li>`)}</ul>
    ${names.map((name) => html`<h3>${name || words.familyNotSaid}</h3><ul class="bars">${bands.filter((band) => band.engine_family === name).map((band) => {
      const all = band.grades.reduce((sum, n) => sum + n, 0);
      let at = 0;
      return html`<li><span class="of">${number(band.from)}–${number(band.to)} ${unit}</span>
        <svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">${band.grades.map((n, grade) => {
          const x = at;
          at += (100 * n) / Math.max(1, all);
          return svg`<rect class="g${grade}" x=${x} y="1.4" width=${(100 * n) / Math.max(1, all)} height="5.2"/>`;
        })}</svg>
        <span class="says">${band.grades.map((n, grade) => (n ? `${words.gradeOf(grade, gradeName(grade))}: ${n}` : '')).filter(Boolean).join(', ') || '–'}</span></li>`;
    })}</ul>`)}</section>`;
}

function years(list) {
  return html`<section><h2>${words.byYear}</h2><p class="hint">${words.byYearHint}</p>
    <ul class="bars">${list.map((year) => bar(year.year, year.dark_mean,
      `${year.dark_mean === null ? '–' : percent(year.dark_mean)}, ${words.inspectionCount(year.inspections_measured)}`, { grade: 3 }))}</ul></section>`;
}

function technicians(list) {
  return html`<section><h2>${words.byTechnician}</h2><p class="hint">${words.byTechnicianHint}</p>
    <ul class="bars two">${list.map((one) => html`${bar(one.technician || words.notSaid, one.refused_percent.value,
      words.refusedShare(between(one.refused_percent), one.photos), { low: one.refused_percent.low, high: one.refused_percent.high, grade: 2 })}
      ${bar('', one.retaken_percent.value, words.retakenShare(between(one.retaken_percent), one.valves),
        { low: one.retaken_percent.low, high: one.retaken_percent.high, grade: 1 })}
      ${one.overruled ? html`<li><span class="of"></span><span></span><span class="says">${words.overruledCount(one.overruled, one.overruled_grades_mean === null ? '–' : number(one.overruled_grades_mean, 1))}</span></li>` : ''}`)}</ul></section>`;
}

const fresh = 30_000; // ms for which statistics are shown as they were

export function statistics() {
  if (!seen.busy && Date.now() - seen.at > fresh) void load();
  const { told } = seen;
  if (!told) return html`<main class="wait"><p role="status">${sentence(seen.failed) || words.counting}</p>${seen.busy ? html`<progress aria-label=${words.counting}></progress>` : ''}</main>`;
  return html`<main class="statistics">
    <p class="loud">${words.archiveHolds(number(told.inspections), number(told.vehicles))}</p>
    <div class="charts">${methods(told.methods ?? [])}${years(told.years ?? [])}${families(told.families ?? [], told.odometer_unit)}${technicians(told.technicians ?? [])}</div>
  </main>`;
}
