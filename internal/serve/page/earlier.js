// Which inspections can be the earlier one beside the one that is shown.
import { state } from './state.js';
import { day } from './figures.js';

const reference = (vehicle) => (vehicle ?? '').toLowerCase().replace(/\s/g, '');

// beforeCleaning is the inspection that a report on a cleaning is likely to begin with, "" where none is.
export function beforeCleaning() {
  const { facts } = state.sheet;
  const [first] = earlierOnes();
  return facts.stage === 'after' && first?.stage === 'before' && reference(first.vehicle) === reference(facts.vehicle) ? first.id : '';
}

export const cardName = (card) => [card.name, card.date && day(card.date)].filter(Boolean).join(', ');

// The likeliest first: of the same vehicle, then the last one before. What the program would refuse for its order is left
// out: a later one, but for that before a cleaning, which its stage tells whatever the dates say.
export function earlierOnes() {
  const { id, facts } = state.sheet;
  const cleaned = (card) => facts.stage === 'after' && card.stage !== 'after';
  const later = (card) => Boolean(card.date && facts.date) && (card.date > facts.date ||
    (card.date === facts.date && card.stage === 'after' && facts.stage === 'before'));
  const rank = (card) => [reference(card.vehicle) !== reference(facts.vehicle), later(card), !card.date,
    card.date === facts.date && !cleaned(card)].map(Number);
  const order = (a, b) => {
    const [first, second] = [rank(a), rank(b)];
    const apart = first.findIndex((value, n) => value !== second[n]);
    return apart < 0 ? b.date.localeCompare(a.date) : first[apart] - second[apart];
  };
  return state.bay.inspections.filter((card) => card.id !== id && (cleaned(card) || !later(card))).sort(order);
}
