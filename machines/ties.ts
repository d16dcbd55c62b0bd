/** Rules that tie two fields of one entry together: what is asked for, or refused, because of what another one says. */
import type { Entry, EntryOf, EntryType, Tie, Ties } from './entry.ts';

type WithLength = EntryOf<'left-in' | 'piece-recovered' | 'tool-damaged' | 'destroyed' | 'hold-answered'>;

/** The rules of format 1. */
export function ties1(entry: Entry): Tie[] {
  const faults: Tie[] = [];
  switch (entry.type) {
    case 'bone-measured':
      if (entry.cortex >= entry.outer / 2) faults.push(['cortex', 'half-outer']);
      break;
    case 'move-ended':
      if (entry.outcome === 'shank-broke' && entry.reachable === undefined) faults.push(['reachable', 'reachable']);
      if (entry.outcome !== 'shank-broke' && entry.reachable !== undefined)
        faults.push(['reachable', 'only-shank-broke']);
      if (entry.toolJammed !== undefined && entry.outcome !== 'out') faults.push(['toolJammed', 'only-out']);
      break;
    case 'left-in':
    case 'piece-recovered':
      if ((entry.screw === undefined) === (entry.tool === undefined)) faults.push(['', 'screw-or-tool']);
      break;
    case 'note-field':
      if ((entry.text === undefined) === (entry.notApplicable === undefined)) faults.push(['', 'text-or-not']);
      break;
    case 'count-answered':
      if (entry.by.length === 0) faults.push(['by', 'nobody']);
      break;
    case 'limits-set':
      // What is not set crosses nothing: undefined is greater than no number, nor is a number greater than it.
      if ((entry.boneConsider as number) > (entry.boneStop as number)) faults.push(['boneConsider', 'above-stop']);
      break;
    default:
  }
  return faults;
}

/** A length without its origin, an origin without its length. */
function originOf(length: number | null | undefined, how: string | undefined): Tie[] {
  if (how === undefined) return length === undefined || length === null ? [] : [['lengthHow', 'length-how']];
  // What is left by difference names no figure of its own.
  return length === undefined || (length === null && how !== 'difference') ? [['lengthHow', 'no-length']] : [];
}

function origin(entry: WithLength): Tie[] {
  return originOf(entry.length, entry.lengthHow);
}

/** Either a list of entries and the screw that they were of, or two screws and the entry from which they were confused. */
function reassignment({ entries, screw, swap, from }: EntryOf<'reassigned'>): Tie[] {
  const named = entries !== undefined && screw !== undefined;
  const swapped = swap !== undefined && from !== undefined;
  const parts = [entries, screw, swap, from].filter((field) => field !== undefined).length;
  if (named === swapped || parts !== 2) return [['', 'entries-or-swap']];
  if (entries?.length === 0) return [['entries', 'empty-list']];
  return swap && swap[0] === swap[1] ? [['swap', 'two-screws']] : [];
}

const more: { readonly [T in EntryType]?: (entry: EntryOf<T>) => Tie[] } = {
  'move-started': ({ move, what }) => ((move === 'other') !== (what !== undefined) ? [['what', 'what-other']] : []),
  'move-ended': ({ outcome, recovered, lengthHow, whole }) => [
    ...originOf(recovered, lengthHow),
    ...(whole !== undefined && outcome !== 'out' ? [['whole', 'only-out'] satisfies Tie] : []),
  ],
  'piece-recovered': (entry) => [
    ...(entry.length === undefined && entry.whole !== true && entry.complete !== true
      ? [['length', 'length-or-whole'] satisfies Tie]
      : []),
    ...origin(entry),
  ],
  'left-in': origin,
  'tool-damaged': origin,
  destroyed: origin,
  'hold-answered': origin,
  'tool-in-room': ({ inner, outer }) =>
    inner !== undefined && outer !== undefined && inner >= outer ? [['inner', 'inner-outer']] : [],
  'put-in': ({ part, screw }) => ((part === undefined) === (screw === undefined) ? [['', 'part-or-screw']] : []),
  reassigned: reassignment,
  'length-answered': ({ answer, reachable }) =>
    (answer === 'broke') !== (reachable !== undefined) ? [['reachable', 'reachable-broke']] : [],
  'part-move': ({ move, outcome }) => (outcome === undefined && move !== 'lift' ? [['outcome', 'missing']] : []),
  // A line of the content that was changed is named, and told as it reads now.
  aftercare: ({ line, text, state }) =>
    (line === undefined) === (text === undefined) && !(state === 'changed' && text !== undefined)
      ? [['', 'line-or-text']]
      : [],
};

/** The rules of format 2, which those of format 1 are among. */
export const ties2: Ties = (entry) => [
  ...ties1(entry),
  ...((more[entry.type] as ((entry: Entry) => Tie[]) | undefined)?.(entry) ?? []),
];
