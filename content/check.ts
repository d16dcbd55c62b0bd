/** Checks a whole content release: every shape, then everything that ties one part to another. */
import * as v from 'valibot';
import { idKinds, ruleIds, type Ids } from './ids.ts';
import { fault } from './fault.ts';
import { faultsOf, pathTo, type Fault } from './shape.ts';
import { schemasOf, type Content, type SourceRow } from './types.ts';

/**
 * Checks content of any origin.
 *
 * @param value anything
 * @returns the content, or every fault with its path; the ties between parts are looked at once all shapes hold
 * @example checkContent({ ...loadContent('2026.1'), moves: [] }) // { faults: [{ path: 'moves', message: 'lacks turn-out' }, …] }
 */
export function checkContent(value: unknown): { content: Content } | { faults: Fault[] } {
  const listed = v.safeParse(Listed, value);
  if (!listed.success) return { faults: faultsOf(listed.issues) };
  const ids = (value as { ids: Ids }).ids;
  const lacking = ruleFaults(ids);
  if (lacking.length > 0) return { faults: lacking };
  const result = v.safeParse(schemasOf(ids).Content, value);
  if (!result.success) return { faults: faultsOf(result.issues) };
  const content = result.output;
  const faults = [...idFaults(content), ...sourceFaults(content), ...figureFaults(content)];
  return faults.length > 0 ? { faults } : { content };
}

const list = v.pipe(
  v.array(v.pipe(v.string(), v.minLength(1))),
  v.check((ids) => new Set(ids).size === ids.length, 'names an id twice'),
);
/** The lists of ids, by which all else is checked. */
const Listed = v.object({ ids: v.strictObject(v.entriesFromList(idKinds, list)) });

/** A release may lack any id but those that the rules name. */
const ruleFaults = (ids: Ids): Fault[] =>
  idKinds.flatMap((kind) =>
    (ruleIds[kind] as readonly string[])
      .filter((id) => !(ids[kind] as readonly string[]).includes(id))
      .map((id) => ({ path: `ids.${kind}`, message: `lacks ${id}, which the rules name` })),
  );

function idFaults(content: Content): Fault[] {
  const drives = content.recesses.map(({ drive, size }) => ({ id: `${drive} ${size}` }));
  return [
    ...listFaults('moves', content.moves, content.ids.moves, content.department ? 'in any order' : 'in order'),
    ...listFaults('tools', content.tools, content.ids.tools, 'in order'),
    ...listFaults('consent', content.consent, content.ids.consent, 'in order'),
    ...listFaults('holds', content.holds, [...new Set([...content.ids.holds, ...content.ids.notices])], 'in any order'),
    ...repeats('holds', content.holds, ({ number }) => number),
    ...repeats('screws', content.screws, ({ id }) => id),
    ...repeats('recesses', drives, ({ id }) => id),
    ...repeats('bones', content.bones, ({ id }) => id),
    ...repeats('antibiotics', content.antibiotics, ({ id }) => id),
    ...repeats('hazards', content.hazards, ({ id }) => id),
    ...repeats('sources', content.sources, ({ id }) => id),
  ];
}

function listFaults(
  path: string,
  rows: readonly { id: string }[],
  ids: readonly string[],
  order: 'in order' | 'in any order',
): Fault[] {
  const present = new Set(rows.map(({ id }) => id));
  const faults = repeats(path, rows, ({ id }) => id);
  faults.push(...ids.filter((id) => !present.has(id)).map((id) => ({ path, message: `lacks ${id}` })));
  if (faults.length > 0 || order === 'in any order') return faults;
  const at = rows.findIndex(({ id }, index) => id !== ids[index]);
  return at < 0 ? [] : [{ path: `${path}[${at}].id`, message: `out of order, expected ${ids[at]}` }];
}

function repeats<T>(path: string, rows: readonly T[], keyOf: (row: T) => string): Fault[] {
  const keys = rows.map(keyOf);
  return keys.flatMap((key, index) =>
    keys.indexOf(key) < index ? [{ path: `${path}[${index}]`, message: `repeats ${key}` }] : [],
  );
}

/** Every `source` anywhere names a row, and every row's citation agrees with its status. */
function sourceFaults(content: Content): Fault[] {
  const known = new Set(content.sources.map(({ id }) => id));
  const faults: Fault[] = [];
  const walk = (value: unknown, path: string): void => {
    if (typeof value !== 'object' || value === null) return;
    for (const [name, child] of Object.entries(value)) {
      const at = pathTo(path, Array.isArray(value) ? Number(name) : name);
      if (name === 'source' && typeof child === 'string' && !known.has(child))
        faults.push({ path: at, message: `no such source: ${child}` });
      walk(child, at);
    }
  };
  const { phrases: _, sources, ...rest } = content;
  walk(rest, '');
  sources.forEach((row, index) => {
    const message = citationFault(row);
    if (message) faults.push({ path: `sources[${index}].cite`, message });
    if (row.status === 'department' && !content.department)
      faults.push({ path: `sources[${index}].status`, message: 'a release is set by no department' });
  });
  return faults;
}

/** What stands in the place of a source, by its status: the words that a citation begins with, and no other does. */
export const unsourced = {
  'common-practice': 'common practice, no source',
  'from-memory': 'from memory',
} as const;

function citationFault({ cite, status }: SourceRow): string | undefined {
  const practised = cite.startsWith(unsourced['common-practice']);
  const remembered = cite.startsWith(unsourced['from-memory']);
  if (practised !== (status === 'common-practice'))
    return 'common practice is cited as "common practice, no source", and nothing else is';
  if (remembered !== (status === 'from-memory'))
    return 'what is from memory is cited as "from memory", and nothing else is';
  if (cite.startsWith('set by the department on ') !== (status === 'department'))
    return 'what the department set is cited as "set by the department on" a day, and nothing else is';
  return undefined;
}

/** Figures that only make sense together. */
function figureFaults({ bones, hazards, limits, moves, screws, reviewed, expires }: Content): Fault[] {
  const faults: Fault[] = [];
  bones.forEach(({ outer, cortex }, index) => {
    if (cortex >= outer / 2) faults.push(fault(`bones[${index}].cortex`, 'half-outer'));
  });
  screws.forEach(({ core, diameter }, index) => {
    if (core >= diameter) faults.push({ path: `screws[${index}].core`, message: 'must be less than the diameter' });
  });
  moves.forEach(({ likely, fits, projection }, index) => {
    if (new Set(likely).size < likely.length)
      faults.push({ path: `moves[${index}].likely`, message: 'repeats an outcome' });
    for (const stage of Object.keys(projection))
      if (!fits.some((fit) => fit === stage))
        faults.push({ path: `moves[${index}].projection.${stage}`, message: 'a stage the move does not fit' });
  });
  moves.forEach(({ id }, index) => {
    if (id === 'leave-in' && index < moves.length - 1)
      faults.push({ path: `moves[${index}]`, message: 'leave-in stands last' });
  });
  hazards.forEach(({ id, tests }, index) => {
    if (id.startsWith('Z') === (tests.length === 0))
      faults.push({ path: `hazards[${index}].tests`, message: 'a released hazard has tests, an added one none' });
  });
  if (limits.tourniquetNoticeMinutes.value >= limits.tourniquetMinutes.value)
    faults.push({ path: 'limits.tourniquetNoticeMinutes.value', message: 'must be less than tourniquetMinutes' });
  if (limits.boneConsider.value > limits.boneStop.value) faults.push(fault('limits.boneConsider.value', 'above-stop'));
  if (expires <= reviewed) faults.push({ path: 'expires', message: 'must be later than reviewed' });
  return faults;
}
