// The address of a view: #/INSPECTION/VIEW/PHOTO.
export const address = (...parts) => '#/' + parts.map(encodeURIComponent).join('/');

export function place() {
  const [, id, view, ...rest] = location.hash.split('/').map(decodeURIComponent);
  return { id: id ?? '', view: view || 'photos', detail: rest.join('/') };
}
