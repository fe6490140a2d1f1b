// Moving and zooming the picture that is worked on. Two fingers do both, whatever lies under them, and take back what the
// first of them had begun; one finger, or the mouse, moves a picture that is zoomed where nothing else lies under it.
import { changed } from './state.js';

const fingers = new Map(); // by pointer: where it is, and whether something lies under it

export function zoomBy(edit, factor, at = [0.5, 0.5], by = [0, 0]) {
  const next = Math.min(8, Math.max(1, edit.zoom * factor));
  const box = document.querySelector('.table').getBoundingClientRect();
  const [cx, cy] = [(at[0] - 0.5) * box.width, (at[1] - 0.5) * box.height];
  moveTo(edit, cx - ((cx - edit.x - by[0]) * next) / edit.zoom, cy - ((cy - edit.y - by[1]) * next) / edit.zoom, next, box);
}

// The middle of the picture stays where it can be found again.
function moveTo(edit, x, y, zoom, box) {
  const within = (value, size) => Math.min((size * (zoom - 1)) / 2, Math.max((-size * (zoom - 1)) / 2, value));
  Object.assign(edit, { x: within(x, box.width), y: within(y, box.height), zoom });
  changed();
}

export function wheel(edit, event) {
  event.preventDefault();
  const box = event.currentTarget.getBoundingClientRect();
  zoomBy(edit, event.deltaY < 0 ? 1.2 : 1 / 1.2, [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height]);
}

export function down(edit, event) {
  const free = !event.target.closest('.handle, .trace, canvas');
  if (event.isPrimary) fingers.clear(); // a finger that left without a word
  fingers.set(event.pointerId, { x: event.clientX, y: event.clientY, free });
  if (fingers.size > 1) {
    edit.stop?.();
    event.stopPropagation();
  } else if (free) event.currentTarget.setPointerCapture(event.pointerId);
}

export function move(edit, event) {
  const last = fingers.get(event.pointerId);
  if (!last) return;
  const now = { ...last, x: event.clientX, y: event.clientY };
  fingers.set(event.pointerId, now);
  const box = event.currentTarget.getBoundingClientRect();
  const other = [...fingers].find(([pointer]) => pointer !== event.pointerId)?.[1];
  if (other) {
    const apart = (one) => Math.max(1, Math.hypot(one.x - other.x, one.y - other.y));
    const middle = [((now.x + other.x) / 2 - box.left) / box.width, ((now.y + other.y) / 2 - box.top) / box.height];
    zoomBy(edit, apart(now) / apart(last), middle, [(now.x - last.x) / 2, (now.y - last.y) / 2]);
  } else if (now.free && edit.zoom > 1) moveTo(edit, edit.x + now.x - last.x, edit.y + now.y - last.y, edit.zoom, box);
}

export function up(event) { fingers.delete(event.pointerId); }
