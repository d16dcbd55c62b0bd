/** The plan in one picture: what stands at which screw, in every step, and what a touch on the state of the room opens. */
import { cleanup, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { readiness } from '../../machines/readiness.ts';
import { Briefing } from '../../src/screens/Briefing.tsx';
import { opening, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const screw = (id: string, more: Partial<Extract<EntryDraft, { type: 'screw-listed' }>> = {}): EntryDraft => ({
  type: 'screw-listed',
  screw: id,
  diameter: 5,
  thread: 'cortical',
  locking: true,
  drive: 'hexalobular',
  driveSize: 25,
  material: 'titanium',
  length: 36,
  cortices: 2,
  ...more,
});
const driver: EntryDraft = { type: 'tool-in-room', tool: 'driver-hexalobular', present: true, size: 25 };
const picture = () => screen.getByRole('complementary', { name: w('briefing.plan') });
const rows = () =>
  within(picture()).getAllByRole('listitem').slice(0, document.querySelectorAll('.plan-number').length);
const rowOf = (id: string) =>
  rows().find((row) => row.querySelector('.plan-number')?.textContent === id) as HTMLElement;
const tagOf = (id: string) => rowOf(id).querySelector('.plan-tag');

describe('the plan beside every step', () => {
  it('stays in view in each of them, with every screw, its number and its size', async () => {
    const { touch } = await room(Briefing, {
      drafts: [opening, screw('1'), screw('2', { diameter: 3.5, length: 28 })],
    });
    for (const step of ['screws', 'bone', 'tools', 'consent', 'agreed', 'start'] as const) {
      await touch(new RegExp(`^${w(`briefing.step.${step}`)}`));
      expect(rows().map((row) => row.querySelector('.plan-number')?.textContent)).toEqual(['1', '2']);
      expect(rowOf('2').querySelector('.plan-size')?.textContent?.trim()).toBe('3.5×28');
    }
  });

  it('has the dead end at the screw that it concerns, and at no other', async () => {
    const drafts = [opening, driver, screw('1'), screw('2', { drive: 'hexagonal', driveSize: 3.5 })];
    const { app } = await room(Briefing, { drafts });
    const seated = readiness(app.open()!.folded).deadEnds.filter(({ stage }) => stage === 'seated');
    expect(seated.map((one) => one.screw)).toEqual(['2']);
    await waitFor(() => expect(tagOf('2')?.textContent).toContain(w('briefing.tag.seated')));
    expect(tagOf('2')?.getAttribute('data-kind')).toBe('dead');
    expect(tagOf('1')?.textContent ?? '').not.toContain(w('briefing.tag.seated'));
  });

  it('has what nobody entered at its screw while nothing worse is known of it', async () => {
    const { app } = await room(Briefing, { drafts: [opening, screw('1'), screw('2', { material: 'unknown' })] });
    await waitFor(() => expect(app.open()!.folded.screws.size).toBe(2));
    expect(rowOf('2').querySelector('.plan-size')?.hasAttribute('data-open')).toBe(true);
    expect(rowOf('1').querySelector('.plan-size')?.hasAttribute('data-open')).toBe(false);
  });

  it('draws a bone of which nobody entered anything as broken lines alone, a measured one whole', async () => {
    const { touch } = await room(Briefing, { drafts: [opening, screw('1')] });
    expect(picture().querySelectorAll('.bone, .marrow')).toHaveLength(0);
    expect(picture().querySelector('.bone-line')?.hasAttribute('data-assumed')).toBe(true);
    await touch(/^Bone/);
    for (const key of ['2', '7', w('briefing.done'), '5', w('briefing.done')]) await touch(key);
    await touch(w('briefing.measured-film'));
    expect(picture().querySelectorAll('.bone')).toHaveLength(2);
    expect(picture().querySelector('.bone-line')?.hasAttribute('data-assumed')).toBe(false);
  });

  it('draws a shank as long as it is, and one of unknown length as a broken outline', async () => {
    await room(Briefing, { drafts: [opening, screw('1'), screw('2', { length: null })] });
    expect(picture().querySelectorAll('.plan-shank')).toHaveLength(1);
    expect(picture().querySelectorAll('.ghost')).toHaveLength(1);
  });
});

describe('the worst of the room', () => {
  it('leads by one touch to the tool that opens a dead end, and ticks nothing by that', async () => {
    const { touch, entries, app } = await room(Briefing, { drafts: [opening, driver, screw('1')] });
    const [first] = readiness(app.open()!.folded).bring;
    const label = app.content().phrases.tools[first!].label;
    await touch(/^Start/);
    const before = entries().length;
    await touch(new RegExp(`^${w('briefing.bring-tool', { tool: label })}`));
    expect(
      screen.getByRole('button', { name: new RegExp(`^${w('briefing.step.tools')}`) }).getAttribute('aria-current'),
    ).toBe('true');
    expect(entries()).toHaveLength(before);
    expect(document.body.textContent).toContain(label);
  });

  it('leads to the fact of the screw that nobody knows', async () => {
    const drafts = [opening, driver, screw('1'), screw('2', { drive: 'unknown' })];
    const { touch } = await room(Briefing, { drafts });
    await touch(/^Start/);
    await touch(new RegExp(`^${w('briefing.say', { what: w('briefing.unknown.drive') })}`));
    expect(screen.getByRole('group', { name: w('briefing.screw', { screw: '2' }) })).toBeTruthy();
    expect(screen.getByText(w('briefing.drive-question'))).toBeTruthy();
  });
});
