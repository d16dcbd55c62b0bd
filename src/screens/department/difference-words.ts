/** What a department's content changes, in words: one line for every difference, none left out. */
import { workingStages, type MoveId } from '../../../content/ids.ts';
import type { Difference } from '../../../content/overlay-diff.ts';
import { departmentSource } from '../../../content/overlay.ts';
import type { Content } from '../../../content/types.ts';
import { figure } from '../../format/figures.ts';
import type { Messages } from '../../format/messages.ts';
import { wordOf, type WordGroup } from './draft.ts';

/** Said by the line of the figure or word itself: the version, and the source that every changed row gets. */
const implied = /^(version|orderStatus|reviewed|expires)$|\.source$/;

/**
 * Shares as they stand in limits, two places or as many as are there.
 *
 * @example shareWords(0.2) // '0.20'
 */
export const shareWords = (share: number): string => {
  const two = share.toFixed(2);
  return figure(Number(two) === share ? two : share);
};

/**
 * The lines for a list of differences.
 *
 * @param after the content that has them
 * @example differenceWords(w, release, ours, [{ path: 'limits.boneConsider.value', before: 0.2, after: 0.18 }])
 *   // ['bone limit, consider: 0.20 → 0.18']
 */
export function differenceWords(w: Messages, before: Content, after: Content, found: readonly Difference[]): string[] {
  const arrow = (what: string, a: string, b: string) => w('department.diff', { what, before: a, after: b });
  const added = (what: string, text: string) => w('department.diff-added', { what, text });
  const move = (id: string) => after.phrases.moves[id as MoveId]?.label ?? id;
  const hours = (value: unknown) =>
    typeof value === 'number' ? w('department.hours', { hours: value }) : w('department.not-again');

  const orders = (): string[] =>
    workingStages.flatMap((stage) => {
      const of = (content: Content) => content.moves.filter(({ fits }) => fits.includes(stage)).map(({ id }) => id);
      const [a, b] = [of(before), of(after)];
      if (a.every((id, i) => id === b[i])) return [];
      const names = (ids: readonly MoveId[]) => ids.map((id) => after.phrases.moves[id].glance).join(', ');
      return [arrow(w('department.order-in', { stage: after.phrases.stages[stage].label }), names(a), names(b))];
    });

  const line = ({ path, before: a, after: b }: Difference): string[] => {
    if (implied.test(path)) return [];
    const [first = '', second = '', third = '', fourth = ''] = path.split('.');
    const row = b as Record<string, string>;
    if (path === 'moves') return orders();
    if (first === 'limits') {
      const isShare = second.startsWith('bone');
      const words = (value: unknown) =>
        isShare ? shareWords(value as number) : w('department.minutes', { minutes: value as number });
      return [arrow(w(`department.limit.${second}`), words(a), words(b))];
    }
    if (first === 'moves' && third === 'notUsedHere')
      return [arrow(move(second), w('department.used'), after.phrases.closed['not-used-here'])];
    if (first === 'moves' && third === 'cautions')
      return [added(w('department.caution-of', { move: move(second) }), row.text ?? '')];
    if (first === 'antibiotics' && third === 'redoseHours')
      return [arrow(w('department.interval-of', { drug: second }), hours(a), hours(b))];
    if (first === 'antibiotics' && a === undefined)
      return [added(second, `${row.dose}, ${hours((b as { redoseHours: unknown }).redoseHours)}`)];
    if (first === 'sources')
      return second === departmentSource ? [] : [added(w('department.source-row'), `${row.what} (${row.cite})`)];
    if (first === 'hazards') return [added(w('department.hazard', { id: second }), row.situation ?? '')];
    if (first === 'phrases' && second === 'cautions') return [added(w('department.caution'), String(b))];
    // Its words tell of it.
    if (first === 'consent' && a === undefined) return [];
    if (first === 'phrases' && second === 'consent' && a === undefined)
      return [added(w('department.own-points'), fourth ? String(b) : `${row.label}: ${row.help}`)];
    if (first === 'phrases') {
      const group = second as WordGroup;
      const thing = wordOf(before, group, third, 'label');
      const field = fourth ? w(`department.field.${fourth}`) : w('department.field.label');
      return [arrow(w('department.word-of', { thing, field }), `“${String(a)}”`, `“${String(b)}”`)];
    }
    if (first === 'department')
      return (after.department?.toolSets ?? []).map(({ name, tools }) =>
        added(w('department.tool-set'), w('department.tool-set-of', { name, count: tools.length })),
      );
    return [arrow(path, JSON.stringify(a), JSON.stringify(b))];
  };
  return found.flatMap(line);
}
