/** A department's content while it is worked on: every change is checked at once, by the checks that a file has to pass. */
import { createMemo, createSignal } from 'solid-js';
import { loadContent } from '../../../content/catalog.ts';
import { currentVersion } from '../../../content/releases/index.ts';
import type { Fault } from '../../../content/shape.ts';
import { type MoveId, type WorkingStage } from '../../../content/ids.ts';
import { differences, type Difference } from '../../../content/overlay-diff.ts';
import { readOverlay } from '../../../content/overlay.ts';
import { overlayFormat, overlayFormatVersion, type OverlayFile } from '../../../content/overlay.types.ts';
import type { Content } from '../../../content/types.ts';
import { withVersion } from '../../session/department-file.ts';
import type { Department, OverlayDraft } from '../../session/department.ts';

export type Edit = ReturnType<typeof createEdit>;
/** Groups of words that can be put in the place of released ones. */
export const wordGroups = ['moves', 'stages', 'holds', 'outcomes', 'tools', 'drives', 'consent'] as const;
export type WordGroup = (typeof wordGroups)[number];

/** One line: a break typed into it becomes a space. */
export const oneLine = (text: string): string => text.replace(/\s*[\r\n]+\s*/g, ' ');

/** The releases that a draft can be compared with, in the language of the screen. */
export const releaseOf = (draft: Pick<OverlayDraft, 'base'>): Content => loadContent(draft.base) as Content;

const fresh = (): OverlayDraft => ({
  format: overlayFormat,
  formatVersion: overlayFormatVersion,
  base: currentVersion,
  name: '',
  changedOn: '',
  reason: '',
});

function without<T extends object>(row: T, key: keyof T): T {
  const { [key]: _, ...rest } = row;
  return rest as T;
}

/**
 * Work on a new version.
 *
 * @param from the version it starts from; null for the release
 * @param today ISO 8601
 */
export function createEdit(department: Department, from: OverlayFile | null, today: string) {
  const start: OverlayDraft = from
    ? { ...(({ version: _, carriedFrom: __, ...rest }) => rest)(from), reason: '' }
    : fresh();
  const [draft, setDraft] = createSignal<OverlayDraft>({ ...start, changedOn: today });
  const release = releaseOf(start);
  const language = release.phrases.language;
  const change = (more: Partial<OverlayDraft>) => setDraft((now) => ({ ...now, ...more }));

  const whole = createMemo(() => withVersion(draft(), department.versions()));
  const read = createMemo(() => readOverlay(whole()));
  const faults = createMemo((): readonly Fault[] => {
    const now = read();
    if (!('faults' in now)) return [];
    // Without a name and a reason nothing else would be looked at any further.
    const named = { ...draft(), name: draft().name || 'x', reason: draft().reason || 'x' };
    const rest = readOverlay(withVersion(named, []));
    const own = now.faults.filter(({ path }) => path === 'name' || path === 'reason');
    return [
      ...own,
      ...('faults' in rest ? rest.faults.filter(({ path }) => path !== 'name' && path !== 'reason') : []),
    ];
  });
  /** What differs from the release; empty while there are faults. */
  const changes = createMemo((): readonly Difference[] => {
    const now = read();
    return 'content' in now ? differences(release, now.content) : [];
  });

  const order = createMemo((): readonly MoveId[] => draft().order ?? release.moves.map(({ id }) => id));
  const inStage = (stage: WorkingStage): MoveId[] =>
    order().filter((id) => release.moves.find((move) => move.id === id)?.fits.includes(stage));

  /** Puts a move just before, or just behind, its neighbour in one stage. */
  function shift(stage: WorkingStage, id: MoveId, by: -1 | 1): void {
    const list = inStage(stage);
    const neighbour = list[list.indexOf(id) + by];
    if (neighbour === undefined || neighbour === 'leave-in' || id === 'leave-in') return;
    const rest = order().filter((other) => other !== id);
    rest.splice(rest.indexOf(neighbour) + (by === 1 ? 1 : 0), 0, id);
    const isReleased = rest.every((other, i) => other === release.moves[i]?.id);
    setDraft((now) => (isReleased ? without(now, 'order') : { ...now, order: rest }));
  }

  const ownWords = (group: WordGroup, id: string) =>
    (draft().phrases?.[language]?.[group] as Record<string, Record<string, string> | string> | undefined)?.[id];

  /** Puts a word in the place of the released one; the released one itself takes it out again. */
  function setWord(group: WordGroup, id: string, field: string, text: string): void {
    const released = wordOf(release, group, id, field);
    const words = { ...(draft().phrases?.[language] ?? {}) } as Record<string, Record<string, unknown>>;
    const rows = { ...(words[group] ?? {}) };
    if (group === 'drives') {
      if (text === released) delete rows[id];
      else rows[id] = text;
    } else {
      const row = { ...((rows[id] ?? {}) as Record<string, string>) };
      if (text === released) delete row[field];
      else row[field] = text;
      if (Object.keys(row).length > 0) rows[id] = row;
      else delete rows[id];
    }
    if (Object.keys(rows).length > 0) words[group] = rows;
    else delete words[group];
    change({ phrases: { ...draft().phrases, [language]: words } });
  }

  return {
    draft,
    release,
    language,
    change,
    whole,
    changes,
    faults,
    /** The faults at a path and below it. */
    faultsAt: (path: string) =>
      faults().filter(
        (fault) => fault.path === path || fault.path.startsWith(`${path}.`) || fault.path.startsWith(`${path}[`),
      ),
    order,
    inStage,
    shift,
    isUsed: (id: MoveId) => !draft().notUsed?.includes(id),
    setUsed: (id: MoveId, used: boolean) => {
      const rest = (draft().notUsed ?? []).filter((other) => other !== id);
      change({ notUsed: used ? rest : [...rest, id] });
    },
    ownWords,
    word: (group: WordGroup, id: string, field: string): string => {
      const own = ownWords(group, id);
      return (typeof own === 'string' ? own : own?.[field]) ?? wordOf(release, group, id, field);
    },
    setWord,
  };
}

/** A word of the release; a drive form has one word and no fields. */
export function wordOf(content: Content, group: WordGroup, id: string, field: string): string {
  const row = (content.phrases[group] as Record<string, Record<string, string> | string>)[id];
  return typeof row === 'string' ? row : (row?.[field] ?? '');
}

/** The fields that can be changed, in the order they are shown. */
export const fieldsOf: Record<WordGroup, readonly string[]> = {
  moves: ['label', 'glance', 'say', 'help'],
  stages: ['label', 'glance', 'say', 'help'],
  holds: ['label', 'glance', 'say', 'help'],
  outcomes: ['label', 'glance'],
  tools: ['label', 'plural'],
  drives: ['label'],
  consent: ['label', 'help'],
};
