// What the page knows, where it comes from, and what it asks the program to do.
import { words, said, locale, understand } from './words.js';

export const state = {
  bay: null, // name, version, locale, inspections
  sheet: null, // the inspection that is shown, as the program tells it
  locked: false, // the code must be typed first
  lost: false, // the connection
  failed: '', // why nothing can be shown
  said: '', // what went wrong last, until it is read
  bringing: [], // photos on their way: {name, share, failed}
  selected: new Set(),
  by: localStorage.getItem('by') ?? '', // who works here, for what is signed
};

const followers = new Set();
export function subscribe(follower) { followers.add(follower); }
export function changed() { for (const follower of followers) follower(); }
export function say(text) { state.said = text; changed(); }

export function signAs(name) {
  state.by = name;
  localStorage.setItem('by', name);
}

// A request; what the program refuses is an error with its words.
export async function call(path, body) {
  const asking = body === undefined ? {} : { method: 'POST', body: JSON.stringify(body), headers: { 'Content-Type': 'application/json' } };
  let answer;
  try {
    answer = await fetch(path, asking);
  } catch {
    throw new Error(words.unreachable);
  }
  if (answer.status === 401) {
    state.locked = true;
    changed();
  }
  const told = await answer.json().catch(() => ({}));
  if (!answer.ok) throw Object.assign(new Error(told.error ? said(told.error) : words.unreachable), { reason: told.reason });
  return told;
}

export const jobPath = (action) => `/api/inspections/${encodeURIComponent(state.sheet.id)}/${action}`;

// Something to do in the inspection that is shown; true when it was done. The change comes back as an event.
export async function act(action, body = {}) {
  try {
    await call(jobPath(action), body);
    state.said = '';
    changed();
    return true;
  } catch (error) {
    say(error.message);
    return false;
  }
}

export const picture = (shot, kind) =>
  `${jobPath('picture/' + kind)}?photo=${encodeURIComponent(shot.file)}&v=${encodeURIComponent(shot.picture)}`;

export async function start(code) {
  try {
    if (code) await call(`/api/enter?language=${locale()}`, { code });
    state.bay = await call(`/api/bay?language=${locale()}`);
    understand(state.bay.words);
    state.locked = false;
    state.failed = '';
  } catch (error) {
    state.failed = state.locked && !code ? '' : error.message; // that a code is asked for the page says by itself
  }
  changed();
}

// What lies in the folder changes while the page is open: who comes to a view that tells of other inspections sees them as
// they are now. Where nobody answers what was known stands; that the connection is lost is told elsewhere.
export async function lookAgain() {
  if (!state.bay || state.locked) return;
  const bay = await call(`/api/bay?language=${locale()}`).catch(() => null);
  if (!bay) return;
  state.bay = bay;
  changed();
}

// Pictures that did not come while the connection was lost are asked for again when the program is heard of; a few times,
// for one that is gone for good comes never.
const missing = new Map(); // how often each was asked for again
const mostAsked = 8;
document.addEventListener('error', ({ target }) => {
  if (target instanceof HTMLImageElement) missing.set(target, missing.get(target) ?? 0);
}, true);
document.addEventListener('load', ({ target }) => missing.delete(target), true);

function askForPictures() {
  for (const [image, asked] of missing) {
    if (!image.isConnected || asked >= mostAsked) missing.delete(image);
    else if (image.complete) {
      missing.set(image, asked + 1);
      image.setAttribute('src', image.getAttribute('src'));
    }
  }
}

let source = null;
let heard = '';
let lastWord = 0;
const patience = 40_000; // ms: the program says a word every fifteen seconds

// Follows one inspection; the browser connects again by itself when the connection was lost.
export function listen(id) {
  if (id === heard && source && source.readyState !== EventSource.CLOSED) return;
  source?.close();
  source = null;
  if (id !== heard) {
    state.selected.clear();
    if (state.bay) state.failed = ''; // of the inspection before
  }
  heard = id;
  if (!id || state.locked || document.hidden) return;
  source = new EventSource(`/api/inspections/${encodeURIComponent(id)}/events`);
  lastWord = Date.now();
  source.addEventListener('beat', () => {
    lastWord = Date.now();
    askForPictures();
  });
  source.addEventListener('sheet', (event) => {
    lastWord = Date.now();
    state.sheet = JSON.parse(event.data);
    state.lost = false;
    state.failed = '';
    const files = new Set(state.sheet.shots.map((shot) => shot.file));
    for (const file of state.selected) if (!files.has(file)) state.selected.delete(file);
    changed();
    askForPictures();
  });
  const mine = source;
  source.addEventListener('error', async () => {
    if (mine !== source) return;
    state.lost = Boolean(state.sheet);
    changed();
    if (mine.readyState !== EventSource.CLOSED) return;
    // Closed for good: the program was started again, or there is no such inspection.
    await new Promise((later) => setTimeout(later, 1500));
    if (mine !== source) return;
    await call(`/api/inspections/${encodeURIComponent(id)}/sheet`).catch((error) => { state.failed = error.message; });
    again();
    changed();
  });
}

function again() {
  source?.close();
  source = null;
  listen(heard);
}

// A phone that slept, or went out of the shop's network and came back, was not told that the connection was lost.
setInterval(() => {
  if (!source || Date.now() - lastWord < patience) return;
  state.lost = Boolean(state.sheet);
  changed();
  again();
}, 5000);
addEventListener('online', again);

// Nobody looks: the few connections that a browser has are left to other tabs.
const unseen = 5000; // ms
let leaving = 0;
document.addEventListener('visibilitychange', () => {
  clearTimeout(leaving);
  if (!document.hidden) {
    if (!source) again();
    return;
  }
  leaving = setTimeout(() => {
    source?.close();
    source = null;
  }, unseen);
});
