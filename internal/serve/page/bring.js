// Photos on their way to the program: dropped, chosen, taken, pasted. One after the other, each tried again when the
// connection was lost; the program keeps the same picture once.
import { state, changed, call, jobPath, say } from './state.js';
import { words, said } from './words.js';

const waiting = [];
let busy = false;

export function bring(files) {
  for (const file of files) {
    if (!(file.type.startsWith('image/') || /\.(hei[cf]|tiff?|bmp|webp)$/i.test(file.name))) {
      say(words.noPhoto(file.name));
      continue;
    }
    const one = { name: file.name, file, share: 0, failed: '', path: jobPath('photos') };
    waiting.push(one);
    state.bringing.push(one);
  }
  changed();
  void work();
}

async function work() {
  if (busy) return;
  busy = true;
  while (waiting.length) {
    const one = waiting[0];
    const told = await send(one);
    if (told === 'again') {
      await new Promise((later) => setTimeout(later, 1500));
      continue;
    }
    waiting.shift();
    if (told === '') state.bringing.splice(state.bringing.indexOf(one), 1);
    else one.failed = told;
    changed();
  }
  busy = false;
}

// Sends one file; the answer is '' for done, 'again' to try once more, else why not.
function send(one) {
  return new Promise((done) => {
    const request = new XMLHttpRequest(); // fetch does not tell how much is sent
    request.open('POST', `${one.path}?name=${encodeURIComponent(one.name)}&taken=${one.file.lastModified || 0}`);
    request.upload.addEventListener('progress', (event) => {
      one.share = event.total ? event.loaded / event.total : 0;
      changed();
    });
    request.addEventListener('error', () => done('again'));
    request.addEventListener('load', () => {
      if (request.status < 300) return done('');
      if (request.status === 429 || request.status === 502) return done('again');
      let told;
      try { told = said(JSON.parse(request.responseText).error); } catch { told = words.unreachable; }
      return done(told);
    });
    request.send(one.file);
  });
}

export function dismiss(one) {
  state.bringing.splice(state.bringing.indexOf(one), 1);
  changed();
}

export const canDrop = (event) => [...(event.dataTransfer?.types ?? [])].includes('Files');
