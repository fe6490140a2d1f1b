// The words of the page in the language that is spoken: its own, and from the program those that the reports have, too.
import { english } from './words/english.js';
import { german } from './words/german.js';

const languages = { en: english, de: german };

export const words = {};
let common = null;
let spoken = 'en';

// Languages by their tags, each under its own name.
export const names = Object.entries(languages).map(([tag, own]) => [tag, own.language]);

// The language that somebody chose here, else the first of the browser's that there is.
function chosen() {
  const wanted = [localStorage.getItem('language'), ...navigator.languages, 'en'];
  return wanted.map((tag) => tag?.split('-')[0]).find((tag) => tag in languages);
}

function speak(tag = chosen()) {
  spoken = tag;
  for (const key of Object.keys(words)) delete words[key];
  Object.assign(words, english, languages[tag]);
  document.documentElement.lang = tag;
}

// The locale for numbers and dates: the program's where it is of the language that is spoken, else the browser's.
export function locale(own) {
  return [own, ...navigator.languages].find((tag) => tag?.split('-')[0] === spoken) ?? spoken;
}

export function choose(tag) {
  localStorage.setItem('language', tag);
  speak(tag);
}

// A day YYYY-MM-DD as it is written in a locale; what is none stands as it is.
export function day(text, own) {
  const date = new Date(text + 'T00:00:00');
  return Number.isNaN(date.valueOf()) ? text : new Intl.DateTimeFormat(own, { dateStyle: 'long' }).format(date);
}

// What the program says in the words of the reports.
export function understand(told) { common = told; }
export const shared = () => common;

// Puts what is told into a sentence of the reports, in order.
export function fill(sentence, ...parts) {
  let n = 0;
  return sentence.replace(/%(?:\[\d+\])?[sd]/g, () => parts[n++] ?? '').replaceAll('%%', '%');
}

// A sentence of the program in the language that is spoken, by the phrases of the reports; where there is none, as the
// program said it. Distances in it have their thousands parted as everywhere on the page.
export function said(text) {
  return phrase(text).replace(distances, (far) => far.replaceAll(' ', common?.thousands ?? ' '));
}
const distances = /(?<!\d)\d{1,3}(?: \d{3})+(?=[ \u00a0](?:mi|km)(?!\p{L}))/gu;

function phrase(text) {
  for (const { form, own } of common?.phrases ?? []) {
    const parts = text.match(pattern(form));
    if (parts) return own.replace(/\{(say |number |day )?(\d)\}/g, (_, how, n) => held(how, parts[n]));
  }
  return text;
}

function held(how, part) {
  if (how === 'say ') return phrase(part);
  if (how === 'day ') return day(part, locale());
  return how === 'number ' && decimals.test(part) ? part.replace('.', common.decimal) : part;
}
const decimals = /^-?\d+\.\d+$/;

const patterns = new Map();
function pattern(form) {
  if (!patterns.has(form)) patterns.set(form, new RegExp(form));
  return patterns.get(form);
}

speak();
