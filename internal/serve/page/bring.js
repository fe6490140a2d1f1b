// Photos on their way to the program: dropped, chosen, taken, pasted. One after the other, each tried again when the
// connection was lost; the program keeps the same picture once.
import { state, changed, jobPath, say } from './state.js';
import { words, said } from './words.js';

const waiting = [];
let busy = false;
const noRoom = 507; // on the disk: somebody will make some

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
    const { again, told } = await send(one);
    one.failed = told;
    changed();
    if (again) {
      await new Promise((later) => setTimeout(later, 1500));
      continue;
    }
    if (waiting[0] === one) waiting.shift();
    if (!told) dismiss(one);
  }
  busy = false;
}

// Sends one file: told is why it is not there yet, '' when it is or nothing need be said; again whether to try once more.
function send(one) {
  return new Promise((done) => {
    const request = new XMLHttpRequest(); // fetch does not tell how much is sent
    request.open('POST', `${one.path}?name=${encodeURIComponent(one.name)}&taken=${one.file.lastModified || 0}`);
    request.upload.addEventListener('progress', (event) => {
      one.share = event.total ? event.loaded / event.total : 0;
      changed();
    });
    request.addEventListener('error', () => done({ again: true, told: '' }));
    request.addEventListener('load', () => {
      if (request.status < 300) return done({ told: '' });
      if (request.status === 429 || request.status === 502) return done({ again: true, told: '' });
      let told;
      try { told = said(JSON.parse(request.responseText).error); } catch { told = words.unreachable; }
      return done({ again: request.status === noRoom, told });
    });
    request.send(one.file);
  });
}

export function dismiss(one) {
  for (const list of [state.bringing, waiting]) {
    const at = list.indexOf(one);
    if (at >= 0) list.splice(at, 1);
  }
  changed();
}

export const canDrop = (event) => [...(event.dataTransfer?.types ?? [])].includes('Files');

// A photo on its way is nowhere else where a phone keeps none that the page took: the browser asks before it is lost.
addEventListener('beforeunload', (event) => { if (waiting.length) event.preventDefault(); });
