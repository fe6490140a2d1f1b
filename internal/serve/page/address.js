// The address of a view: #/INSPECTION/VIEW/PHOTO, or #/:VIEW/NUMBER for what the archive knows. A colon at the beginning of
// an inspection's name is written %3A, so that the two are never taken for each other.
export const address = (...parts) => '#/' + parts.map(encodeURIComponent).join('/');
export const remembered = (view, ...parts) => ['#/:' + view, ...parts].join('/');

export function place() {
  const parts = location.hash.split('/').slice(1);
  if (parts[0]?.startsWith(':')) return { id: '', archive: parts[0].slice(1), detail: parts[1] ?? '' };
  const [id, view, ...rest] = parts.map(decodeURIComponent);
  return { id: id ?? '', view: view || 'photos', detail: rest.join('/') };
}
