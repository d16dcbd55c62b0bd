/** Invented department content for tests. No figure in it means anything. */
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { versionOf } from '../../content/overlay.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import type { Content } from '../../content/types.ts';

export const release = loadContent(currentVersion) as Content;

/** An overlay with these changes, under the version that belongs to it. */
export function overlayWith(changes: Partial<OverlayFile> = {}, number = 1): OverlayFile {
  const file: OverlayFile = {
    format: 'counterturn-content',
    formatVersion: 1,
    base: release.version,
    version: '',
    name: 'Invented ward',
    changedOn: '2026-03-02',
    reason: 'invented for a test',
    ...changes,
  };
  return { ...file, version: versionOf(file, 'ward', number) };
}

const ids = release.moves.map(({ id }) => id);

/** One of everything that can be changed or added. */
export const everything: Partial<OverlayFile> = {
  sources: [{ id: 'ward-audit', what: 'Invented audit', cite: 'Invented department audit 2026', status: 'seen' }],
  order: ['reseat-driver', 'turn-out', ...ids.slice(2)],
  notUsed: ['drive-oversize'],
  limits: { boneConsider: 0.18, tourniquetMinutes: 100 },
  antibiotics: [
    { id: 'cefazolin', redoseHours: 3 },
    { id: 'inventin', redoseHours: null, dose: '1 g' },
  ],
  cautions: {
    standing: ['Tell the desk before the second hour.'],
    moves: { 'burr-out': [{ text: 'Two suckers at the table', source: 'ward-audit' }, { text: 'Visor down' }] },
  },
  hazards: [{ id: 'D1', situation: 'Invented', cause: 'Invented', harm: 'Invented', control: 'Invented' }],
  policy: ['Tools from outside the house are not used.'],
  toolSets: [{ name: 'Large tray', tools: [{ tool: 'hollow-reamer', fits: [4.5], outer: 6.5, inner: 5 }] }],
  phrases: {
    en: {
      moves: { 'grip-head': { label: 'Hold the head from outside', glance: 'hold head' } },
      consent: { 'may-stay': { label: 'Part of it may stay in' } },
    },
  },
};
