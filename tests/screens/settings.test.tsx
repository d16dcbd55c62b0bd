import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { uncalibratedPxPerMm } from '../../src/parts/px-per-mm.ts';
import { capHeightMm } from '../../src/parts/type-size.ts';
import { Settings } from '../../src/screens/Settings.tsx';
import { card, pxPerMmOf } from '../../src/screens/settings/Calibration.tsx';
import { content, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

describe('the settings', () => {
  it('[Z8] calibrates by the outline of a card, and says so until then', async () => {
    const { touch, app } = await room(Settings);
    expect(screen.getByText(w('settings.not-calibrated'), { selector: 'b' })).toBeTruthy();
    const outline = () => Number(document.querySelector('.card-outline')!.getAttribute('width'));
    expect(outline()).toBe(Math.round(uncalibratedPxPerMm * card.width));
    for (let i = 0; i < 12; i++) await touch(w('settings.wider-much'));
    await touch(w('settings.narrower'));
    expect(app.preferences().pxPerMm).toBeNull();
    await touch(w('settings.fits'));
    expect(app.preferences().pxPerMm).toBe(pxPerMmOf(outline()));
    expect(app.preferences().pxPerMm).toBeCloseTo(443 / 85.6, 3);
  });

  it('draws the card in its true shape', async () => {
    await room(Settings);
    const outline = document.querySelector('.card-outline')!;
    const [width, height] = ['width', 'height'].map((side) => Number(outline.getAttribute(side)));
    expect(width! / height!).toBeCloseTo(85.6 / 53.98, 6);
  });

  it('sets distance and scheme in one touch each', async () => {
    const { touch, app } = await room(Settings);
    await touch(w('settings.metres', { metres: 3 }));
    await touch(w('settings.light'));
    expect(app.preferences()).toMatchObject({ distance: 3, theme: 'light' });
  });

  it('[Z8] shows the height of capitals for the distance set, in mm and px, with standard and status', async () => {
    const { touch } = await room(Settings);
    await touch(w('settings.metres', { metres: 3 }));
    await touch(w('settings.sizes'));
    const row = screen.getByText(w('settings.row.surgeon-start')).closest('tr')!;
    expect(row.textContent).toContain(w('settings.mm', { mm: capHeightMm(3, 22).toFixed(1) }));
    expect(row.textContent).toContain(`${(capHeightMm(3, 22) * uncalibratedPxPerMm).toFixed(0)} px`);
    expect(screen.getByText(/ISO 9241-3,.*second-hand/)).toBeTruthy();
    expect(screen.getByText(w('settings.not-calibrated-sizes'))).toBeTruthy();
  });

  it('[Z12] lists every source with its status, and the version with its dates', async () => {
    const { touch } = await room(Settings);
    await touch(w('settings.sources'));
    const items = [...document.querySelectorAll('.sources li')].map((item) => item.textContent);
    expect(items).toHaveLength(content.sources.length);
    content.sources.forEach(({ what, cite }, i) => {
      expect(items[i]).toContain(what);
      expect(items[i]).toContain(cite);
    });
    const memory = content.sources.filter(({ status }) => status === 'from-memory');
    await touch(w('settings.status-count', { status: w('settings.status.from-memory'), count: memory.length }));
    expect(document.querySelectorAll('.sources li')).toHaveLength(memory.length);
    await touch(w('settings.about'));
    expect(
      screen.getByText(w('settings.reviewed', { reviewed: content.reviewed, expires: content.expires })),
    ).toBeTruthy();
  });

  it('[Z12] says that content is past its date', async () => {
    const { touch } = await room(Settings, { more: { tick: () => Date.parse('2099-01-01T00:00:00Z') } });
    await touch(w('settings.about'));
    expect(screen.getByText(w('settings.expired'))).toBeTruthy();
  });

  it('names the licences of font and codes', async () => {
    const { touch } = await room(Settings);
    await touch(w('settings.about'));
    expect(screen.getByText(/SIL Open Font License 1\.1/)).toBeTruthy();
    expect(screen.getByText(/LOINC is copyright/)).toBeTruthy();
  });
});
