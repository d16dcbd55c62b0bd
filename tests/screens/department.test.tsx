import { cleanup, fireEvent, screen } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { currentVersion } from '../../content/releases/index.ts';
import type { MoveId } from '../../content/ids.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import { ownPointId } from '../../src/screens/department/OwnPoints.tsx';
import { Carries } from '../../src/screens/department/Carries.tsx';
import { Department } from '../../src/screens/Department.tsx';
import { carriedTo } from '../../src/session/carried.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { createDepartment, department, type Department as Kept } from '../../src/session/department.ts';
import { everything, overlayWith } from '../content/overlays.ts';
import { content, opening, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

/** Glance labels of the moves for a stripped recess, one of them put before another. */
function strippedOrder(moved?: MoveId, before?: MoveId): string {
  const ids = content.moves.filter(({ fits }) => fits.includes('recess-stripped')).map(({ id }) => id);
  const rest = ids.filter((id) => id !== moved);
  if (moved && before) rest.splice(rest.indexOf(before), 0, moved);
  return rest.map((id) => content.phrases.moves[id].glance).join(', ');
}

/** The screen over a store of its own. */
async function opened(
  versions: readonly OverlayFile[] = [],
  used: string | null = null,
  drafts: readonly (typeof opening)[] = [],
) {
  const held = new Map<string, string>();
  const box = {
    getItem: (key: string) => held.get(key) ?? null,
    setItem: (k: string, v: string) => void held.set(k, v),
  };
  const kept: Kept = createDepartment(() => box);
  for (const one of versions) kept.keep(one);
  kept.use(used);
  const here = await room(() => <Department kept={kept} />, { drafts });
  return { ...here, kept };
}
const part = (name: string) => w(`department.part.${name}`);
/** A touch by the words it begins with, closed ones as well. */
const touchNamed = (name: string) => screen.getByText(name).closest('button') as HTMLButtonElement;
const type = (label: string, text: string) =>
  fireEvent.input(screen.getByLabelText(label), { target: { value: text } });
const changes = (base = currentVersion) =>
  [...screen.getByRole('region', { name: w('department.changes', { base }) }).querySelectorAll('li')].map(
    (item) => item.textContent,
  );

describe('the department’s content on screen', () => {
  it('says that new cases get the release while nothing is in use', async () => {
    await opened();
    expect(screen.getByText(w('department.new-cases', { version: currentVersion }))).toBeTruthy();
    expect(touchNamed(w('department.off')).textContent).toContain(w('department.none'));
  });

  it('saves limits, order, interval and policy as a new version; in use only by a touch of its own', async () => {
    const { touch, kept } = await opened();
    await touch(w('department.change'));
    const grip = content.phrases.moves['grip-head'].label;
    await touch(w('department.up-of', { move: grip }));
    await touch(w('department.not-used-of', { move: content.phrases.moves['drive-oversize'].label }));
    await touch(part('figures'));
    await touch(new RegExp(`^${w('department.limit.boneConsider')}`));
    for (const digit of ['1', '8']) await touch(digit);
    await touch(w('department.done'));
    await touch(/^cefazolin/);
    await touch('3');
    await touch(w('department.done'));
    await touch(part('lines'));
    type(w('department.new-line', { of: w('department.policy') }), 'Tools from outside the house\nare not used.');
    await touch(w('department.add'));
    await touch(part('save'));
    expect(touchNamed(w('department.save')).getAttribute('aria-disabled')).toBe('true');
    type(w('department.name'), 'Invented ward');
    type(w('department.reason'), 'invented for a test');

    const said = changes();
    expect(said).toContain('bone limit, consider: 0.20 → 0.18');
    expect(said).toContain('cefazolin, given again after: 4 h → 3 h');
    expect(said).toContain(`${content.phrases.moves['drive-oversize'].label}: used → not used here`);
    expect(said.find((line) => line?.startsWith('order, Recess stripped'))).toBe(
      `order, Recess stripped: ${strippedOrder()} → ${strippedOrder('grip-head', 'drive-oversize')}`,
    );
    expect(said.join()).toContain('Tools from outside the house are not used.');

    await touch(new RegExp(`^${w('department.save')}`));
    const [saved] = kept.versions();
    expect(saved?.version).toMatch(/^2026\.1\+invented-ward-1\.[0-9a-f]{8}$/);
    expect(kept.inUse()).toBeNull();
    expect(screen.getByText(w('department.new-cases', { version: currentVersion }))).toBeTruthy();
    await touch(w('department.use-of', { version: saved!.version }));
    expect(kept.content().limits.boneConsider.value).toBe(0.18);
    expect(
      kept
        .content()
        .moves.map(({ id }) => id)
        .indexOf('grip-head'),
    ).toBe(3);
    expect(screen.getByText(w('department.new-cases', { version: saved!.version }))).toBeTruthy();
    await touch(w('department.off'));
    expect(kept.pin()).toEqual({ contentVersion: currentVersion });
  });

  it('takes a source in, with how it is known, and lets it be taken away again until it is saved', async () => {
    const { touch, kept } = await opened();
    await touch(w('department.change'));
    await touch(part('lines'));
    const enter = async (what: string, status: string, cite?: string) => {
      type(w('department.source-what'), what);
      expect(touchNamed(w('department.add-source')).getAttribute('aria-disabled')).toBe('true');
      await touch(w(`settings.status.${status}`));
      if (cite !== undefined) type(w('department.source-cite'), cite);
      await touch(w('department.add-source'));
    };
    await enter('Invented: reamers are kept in store two', 'common-practice');
    await enter('Invented: another line', 'from-memory');
    await touch(w('department.take-away-of', { line: 'Invented: reamers are kept in store two' }));
    await enter('Invented: a third line', 'seen', 'Invented author 2020, invented journal');
    await touch(part('save'));
    type(w('department.name'), 'Invented ward');
    type(w('department.reason'), 'invented for a test');
    await touch(new RegExp(`^${w('department.save')}`));
    const [saved] = kept.versions();
    expect(saved?.sources).toEqual([
      { id: 'own-2', what: 'Invented: another line', cite: 'from memory', status: 'from-memory' },
      { id: 'own-1', what: 'Invented: a third line', cite: 'Invented author 2020, invented journal', status: 'seen' },
    ]);
    await touch(w('department.use-of', { version: saved!.version }));
    expect(kept.content().sources.filter(({ id }) => id.startsWith('own-'))).toHaveLength(2);
    await touch(w('department.off'));
  });

  it('[Z29] keeps a faulty draft from being saved, with the words of the check beside the field', async () => {
    const { touch, kept } = await opened();
    await touch(w('department.change'));
    await touch(part('figures'));
    await touch(new RegExp(`^${w('department.limit.boneConsider')}`));
    for (const digit of ['4', '0']) await touch(digit);
    await touch(w('department.done'));
    expect(screen.getByText('is greater than boneStop')).toBeTruthy();
    await touch(part('words'));
    await touch(new RegExp(`^${content.phrases.moves['turn-out'].label}`));
    type(w('department.field.glance'), 'far too long for a screen');
    type(w('department.field.say'), 'one two three four five six seven eight nine ten eleven twelve thirteen');
    expect(screen.getByText('a glance label has at most sixteen letters')).toBeTruthy();
    expect(screen.getByText('a read-aloud line has at most twelve words')).toBeTruthy();
    await touch(part('save'));
    type(w('department.name'), 'Invented ward');
    type(w('department.reason'), 'invented');
    const save = touchNamed(w('department.save'));
    expect(save.getAttribute('aria-disabled')).toBe('true');
    expect(save.textContent).toMatch(/\d to put right/);
    await expect(touch(new RegExp(`^${w('department.save')}`))).rejects.toThrow(/closed/);
    expect(kept.versions()).toEqual([]);
  });

  it('takes a word back to the release, and then nothing differs there', async () => {
    const { touch } = await opened();
    await touch(w('department.change'));
    await touch(part('consent'));
    await touch(new RegExp(`^${content.phrases.consent['may-stay'].label}`));
    type(w('department.field.label'), 'Part of it may stay in');
    await touch(w('department.done'));
    await touch(new RegExp('^Part of it may stay in'));
    await touch(w('department.to-released'));
    await touch(part('save'));
    type(w('department.name'), 'Invented ward');
    type(w('department.reason'), 'invented');
    expect(changes()).toEqual([w('department.no-changes')]);
  });

  it('takes consent points of its own by touch, each with its words, and lets them go again', async () => {
    const { touch, kept } = await opened();
    await touch(w('department.change'));
    await touch(part('consent'));
    const add = async (label: string, help: string) => {
      type(w('department.own-point'), label);
      type(w('department.own-point-help'), help);
      await touch(w('department.add'));
    };
    await add('Ärmel und Größe', 'invented words');
    await add('Plaster for two weeks', 'The limb is in plaster for two weeks.');
    await touch(w('department.take-away-of', { line: 'Ärmel und Größe' }));
    await touch(part('save'));
    type(w('department.name'), 'Invented ward');
    type(w('department.reason'), 'invented');
    expect(changes().filter((line) => line?.includes('Plaster for two weeks'))).toHaveLength(1);
    expect(changes().join()).not.toMatch(/undefined|\{/);
    await touch(new RegExp(`^${w('department.save')}`));
    expect(kept.versions()[0]?.consent).toEqual([
      {
        id: 'own-plaster-for-two-weeks',
        label: 'Plaster for two weeks',
        help: 'The limb is in plaster for two weeks.',
      },
    ]);
  });

  it('gives each point of its own an id of small letters, told apart by a number', () => {
    expect(ownPointId('Ärmel & Größe', [])).toBe('own-armel-grosse');
    expect(ownPointId('One', ['own-one', 'own-one-2'])).toBe('own-one-3');
    expect(ownPointId('…', [])).toBe('own-point');
    const long = ownPointId('a very long point in a great many words of its own', []);
    expect(long).toMatch(/^own-[a-z0-9]+(?:-[a-z0-9]+)*$/);
    expect(long.length).toBeLessThanOrEqual(36);
  });

  it('starts from the version in use, never changes it, and counts up', async () => {
    const first = overlayWith({ ...everything, name: 'Ward' });
    const { touch, kept } = await opened([first], first.version);
    await touch(w('department.change'));
    await touch(part('lines'));
    await touch(w('department.take-away-of', { line: everything.policy![0]! }));
    await touch(part('save'));
    type(w('department.reason'), 'policy gone');
    await touch(new RegExp(`^${w('department.save')}`));
    const [before, after] = kept.versions();
    expect(before).toEqual(first);
    expect(after?.version).toMatch(/\+ward-2\./);
    expect(after?.policy).toEqual([]);
    expect(after?.limits).toEqual(first.limits);
    expect(kept.inUse()).toEqual(first);
  });

  it('shows every difference of a version, and nothing in numbers of paths', async () => {
    const first = overlayWith(everything);
    const { touch } = await opened([first]);
    await touch(w('department.look-of', { version: first.version }));
    const said = changes();
    expect(said).toContain('tourniquet limit: 120 min → 100 min');
    expect(said).toContain('inventin, added: 1 g, not given again');
    expect(said).toContain(`caution, ${content.phrases.moves['burr-out'].label}, added: Visor down`);
    expect(said).toContain('hazard D1, added: Invented');
    expect(said).toContain('source, added: Invented audit (Invented department audit 2026)');
    expect(said).toContain('tool set, added: Large tray: 1 tools');
    expect(said.filter((line) => /^\w+\.\w+/.test(line ?? ''))).toEqual([]);
  });

  it('does nothing in a case but tell', async () => {
    await opened([], null, [opening]);
    for (const name of [w('department.change'), w('department.bring')])
      expect(touchNamed(name).textContent).toContain(w('department.in-case'));
  });

  it('brings a file in, and says every fault of one that is not whole', async () => {
    const first = overlayWith(everything);
    const { kept } = await opened();
    const chooser = document.querySelector('input[type=file]') as HTMLInputElement;
    const give = (text: string) => {
      const file = new File([text], 'x.json');
      Object.defineProperty(chooser, 'files', { value: [file], configurable: true });
      fireEvent.change(chooser);
    };
    give(JSON.stringify({ ...first, limits: { boneStop: 9 } }));
    await vi.waitFor(() => expect(screen.getByText('limits.boneStop')).toBeTruthy());
    expect(kept.versions()).toEqual([]);
    give(JSON.stringify(first));
    await vi.waitFor(() => expect(kept.versions()).toEqual([first]));
  });
});

describe('a limit that the department has set', () => {
  afterEach(() => void department().use(null));
  const source = 'set by the department on 2026-03-02: invented for a test (set by the department)';

  async function atTable(limits: OverlayFile['limits']) {
    const file = overlayWith({ limits });
    department().keep(file);
    department().use(file.version);
    return room(Table, { drafts: [opening, { type: 'work-started' }] });
  }

  it('is named with its source and status two touches from the table, each limit by itself', async () => {
    const { touch, touches, app } = await atTable({ boneStop: 0.25, tourniquetMinutes: 100 });
    await touch(w('table.more'));
    await touch(w('more.bone'));
    expect(touches()).toBe(2);
    expect(document.body.textContent).toMatch(/Limits: 20\s%, common practice, no source \(no source\); 25\s%, set/);
    expect(document.body.textContent).toContain(source);
    await touch(w('table.back'));
    await touch(w('table.more'));
    await touch(w('more.clocks'));
    expect(document.body.textContent).toContain(w('clocks.limit-source', { minutes: 100, source }));
    await app.session.record({ type: 'limits-set', tourniquetMinutes: 90 });
    const ofCase = w('clocks.limit-source', { minutes: 90, source: w('briefing.limit-set') });
    await vi.waitFor(() => expect(document.body.textContent).toContain(ofCase));
  });
});

describe('carried over to the next release', () => {
  const carry = () => touchNamed(w('department.carry', { to: carriedTo }));
  const { order, ...plain } = everything;

  it('is kept as a version of its own that no real case is opened with, and the old one stays in use', async () => {
    const before = overlayWith(plain);
    const { touch, kept } = await opened([before], before.version);
    await touch(w('department.carry-of', { version: before.version, to: '2026.2-draft' }));
    await vi.waitFor(() => expect(kept.versions()).toHaveLength(2), 20_000);
    const [, carried] = kept.versions();
    expect(carried).toMatchObject({ base: carriedTo, carriedFrom: before.version, limits: before.limits });
    expect(kept.inUse()?.version).toBe(before.version);
    expect(await screen.findByText(w('department.carried-from', { version: before.version }))).toBeTruthy();
    expect(screen.getByText(w('department.draft-only'))).toBeTruthy();
    expect(carry().textContent).toContain(w('department.is-carried'));
  });

  it('is kept back with the path of what has no place there', async () => {
    const before = overlayWith({ ...plain, order });
    const { touch, kept } = await opened([before], before.version);
    await touch(w('department.carry-of', { version: before.version, to: '2026.2-draft' }));
    const path = await screen.findByText('order', { selector: 'code' }, { timeout: 20_000 });
    expect(path.closest('li')?.textContent).toContain('uncover');
    expect(kept.versions()).toEqual([before]);
  });

  it('is said on the case list: carried over as what, or what has no place', async () => {
    const list = async (changes: Partial<OverlayFile>) => {
      const { kept } = await opened([overlayWith(changes)], overlayWith(changes).version);
      cleanup();
      await room(() => <Carries kept={kept} />);
      return overlayWith(changes).version;
    };
    const version = await list(plain);
    const told = w('department.carried', { version, to: carriedTo, as: '' }).split(' as ')[0] as string;
    await screen.findByText((text) => text.startsWith(told), {}, { timeout: 20_000 });
    cleanup();
    const refused = await list({ ...plain, order });
    await screen.findByText(
      w('department.no-place', { version: refused, to: carriedTo, count: 1 }),
      {},
      { timeout: 20_000 },
    );
    expect(screen.getByText('order', { selector: 'code' })).toBeTruthy();
  });
});
