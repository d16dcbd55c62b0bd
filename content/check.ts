/** Checks a whole content release: every shape, then everything that ties one part to another. */
import * as v from 'valibot';
import { idKinds, ruleIds, type Ids } from './ids.ts';
import { fault, says } from './fault.ts';
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
  const faults = [...idFaults(content), ...sourceFaults(content), ...figureFaults(content), ...glanceFaults(content)];
  return faults.length > 0 ? { faults } : { content };
}

const list = v.pipe(
  v.array(v.pipe(v.string(), v.minLength(1))),
  v.check((ids) => new Set(ids).size === ids.length, says('id-twice')),
);
/** The lists of ids, by which all else is checked. */
const Listed = v.object({ ids: v.strictObject(v.entriesFromList(idKinds, list)) });

/** A release may lack any id but those that the rules name. */
const ruleFaults = (ids: Ids): Fault[] =>
  idKinds.flatMap((kind) =>
    (ruleIds[kind] as readonly string[])
      .filter((id) => !(ids[kind] as readonly string[]).includes(id))
      .map((id) => fault(`ids.${kind}`, 'lacks-ruled', { id })),
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
  faults.push(...ids.filter((id) => !present.has(id)).map((id) => fault(path, 'lacks', { id })));
  if (faults.length > 0 || order === 'in any order') return faults;
  const at = rows.findIndex(({ id }, index) => id !== ids[index]);
  return at < 0 ? [] : [fault(`${path}[${at}].id`, 'order', { id: ids[at] as string })];
}

function repeats<T>(path: string, rows: readonly T[], keyOf: (row: T) => string): Fault[] {
  const keys = rows.map(keyOf);
  return keys.flatMap((key, index) =>
    keys.indexOf(key) < index ? [fault(`${path}[${index}]`, 'repeats', { id: key })] : [],
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
        faults.push(fault(at, 'no-source', { id: child }));
      walk(child, at);
    }
  };
  const { phrases: _, sources, ...rest } = content;
  walk(rest, '');
  sources.forEach((row, index) => {
    const cited = citationFault(row, `sources[${index}].cite`);
    if (cited) faults.push(cited);
    if (row.status === 'department' && !content.department)
      faults.push(fault(`sources[${index}].status`, 'release-status'));
  });
  return faults;
}

/** What stands in the place of a source, by its status: the words that a citation begins with, and no other does. */
export const unsourced = {
  'common-practice': 'common practice, no source',
  'from-memory': 'from memory',
} as const;

/** What a citation of the department's own begins with, before the day. */
const byDepartment = 'set by the department on';

function citationFault({ cite, status }: SourceRow, path: string): Fault | undefined {
  const practised = cite.startsWith(unsourced['common-practice']);
  const remembered = cite.startsWith(unsourced['from-memory']);
  if (practised !== (status === 'common-practice'))
    return fault(path, 'cite-practice', { words: unsourced['common-practice'] });
  if (remembered !== (status === 'from-memory')) return fault(path, 'cite-memory', { words: unsourced['from-memory'] });
  if (cite.startsWith(`${byDepartment} `) !== (status === 'department'))
    return fault(path, 'cite-department', { words: byDepartment });
  return undefined;
}

/** Figures that only make sense together. */
function figureFaults({ bones, hazards, limits, moves, screws, reviewed, expires }: Content): Fault[] {
  const faults: Fault[] = [];
  bones.forEach(({ outer, cortex }, index) => {
    if (cortex >= outer / 2) faults.push(fault(`bones[${index}].cortex`, 'half-outer'));
  });
  screws.forEach(({ core, diameter }, index) => {
    if (core >= diameter) faults.push(fault(`screws[${index}].core`, 'core-wide'));
  });
  moves.forEach(({ likely, fits, projection }, index) => {
    if (new Set(likely).size < likely.length) faults.push(fault(`moves[${index}].likely`, 'outcome-twice'));
    for (const stage of Object.keys(projection))
      if (!fits.some((fit) => fit === stage)) faults.push(fault(`moves[${index}].projection.${stage}`, 'stage-unfit'));
  });
  moves.forEach(({ id }, index) => {
    if (id === 'leave-in' && index < moves.length - 1) faults.push(fault(`moves[${index}]`, 'leave-in-last'));
  });
  hazards.forEach(({ id, tests }, index) => {
    if (id.startsWith('Z') === (tests.length === 0)) faults.push(fault(`hazards[${index}].tests`, 'hazard-tests'));
  });
  if (limits.tourniquetMinutes && limits.tourniquetNoticeMinutes.value >= limits.tourniquetMinutes.value)
    faults.push(fault('limits.tourniquetNoticeMinutes.value', 'notice-late'));
  if (limits.boneConsider.value > limits.boneStop.value) faults.push(fault('limits.boneConsider.value', 'above-stop'));
  if (expires <= reviewed) faults.push(fault('expires', 'expires-early'));
  return faults;
}

/** Letters that words read from afar may have, by the second ladder; a stage stands on the tile of a screw, too. */
const glanceLetters = { stages: 8, moves: 11, outcomes: 11 } as const;

/**
 * By the second ladder the words read from afar are shorter than every shape allows: what is short is set larger.
 * Gaps between words count as nothing.
 *
 * @example lettersOf('grip head') // 8
 */
export const lettersOf = (words: string): number => words.replaceAll(/\s/g, '').length;

/** Every word read from afar that is longer than the second ladder lets it be. */
export function glanceFaults({ ladder, phrases }: Pick<Content, 'ladder' | 'phrases'>): Fault[] {
  if (ladder !== 2) return [];
  return Object.entries(glanceLetters).flatMap(([group, most]) =>
    Object.entries<{ glance: string }>(phrases[group as keyof typeof glanceLetters])
      .filter(([, { glance }]) => lettersOf(glance) > most)
      .map(([id]) => fault(`phrases.${group}.${id}.glance`, 'glance-letters', { count: most })),
  );
}
