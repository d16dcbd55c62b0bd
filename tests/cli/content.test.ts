/** The commands on a case that was written with a department's own content. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { run } from '../../src/commands.ts';
import { everything, overlayWith } from '../content/overlays.ts';
import { begun, caseOf, faults, fileWith } from './files.ts';

const folder = mkdtempSync(join(tmpdir(), 'counterturn-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const overlay = overlayWith(everything);
const content = fileWith(overlay);
const log = begun().room('mallet').call('1').begins('1', 'turn-out').ends('1', 'slipped');
const ours = fileWith(caseOf(log.entries, { contentVersion: overlay.version }));

describe('a case with a department’s content', () => {
  it('[Z29] is refused by the name of the content without its file', async () => {
    expect(faults(await run(['state', ours]))).toEqual([
      `contentVersion: this build has no content "${overlay.version}"`,
    ]);
  });

  it('is read with it: its order, what is not used here, its limits, its words', async () => {
    const { status, stdout } = await run(['state', ours, '--content', content]);
    expect(status).toBe(0);
    const { offered, withdrawn } = (
      JSON.parse(stdout) as {
        screws: Record<string, { offered: unknown[]; withdrawn: { move: string; why: string }[] }>;
      }
    ).screws['1']!;
    expect(offered).toHaveLength(1);
    expect(withdrawn.find(({ move }) => move === 'drive-oversize')).toEqual({
      move: 'drive-oversize',
      why: 'not-used-here',
      missing: [],
    });
    const text = (await run(['note', ours, '--as', 'text', '--content', content])).stdout.replace(/\s+/g, ' ');
    expect(text).toContain(overlay.version);
    expect(text).toContain('lower limit 18 %');
    expect(text).toContain('Local policy, set by the department on 2026-03-02: Tools from outside');
  });

  it('keeps its policy and its words in a note in German', async () => {
    const args = ['note', ours, '--as', 'text', '--lang', 'de', '--content', content];
    const text = (await run(args)).stdout.replace(/\s+/g, ' ');
    expect(text).toContain('Tools from outside the house are not used.');
    expect(text).toContain('von der Abteilung festgelegt am 2026-03-02');
    expect(text).not.toContain('set by the department');
  });

  it.each([['check'], ['ready'], ['forecast']])('%s takes the file too', async (command) => {
    expect((await run([command, ours])).status).toBe(2);
    expect((await run([command, ours, '--content', content])).status).toBeLessThan(2);
  });

  it('changes nothing for a case of the release', async () => {
    const plain = fileWith(caseOf(log.entries));
    for (const args of [['state'], ['ready'], ['note', '--as', 'text'], ['note', '--as', 'fhir']]) {
      const [command = '', ...rest] = args;
      expect(await run([command, plain, ...rest, '--content', content])).toEqual(await run([command, plain, ...rest]));
    }
  });

  it('[Z29] a file with a fault is refused with its path, whatever the case', async () => {
    const bad = fileWith({ ...overlay, limits: { boneStop: 0.9 } });
    const [fault] = faults(await run(['state', ours, '--content', bad]));
    expect(fault).toMatch(/^--content: version: the file was changed under this version: its checksum is [0-9a-f]{8}$/);
    expect(faults(await run(['state', ours, '--content', fileWith('{')]))).toEqual(['1:2: broken JSON']);
  });

  it('is counted over a folder with the files of several departments', async () => {
    writeFileSync(join(folder, 'a.json'), JSON.stringify(caseOf(log.entries, { contentVersion: overlay.version })));
    const other = fileWith(overlayWith({}, 7));
    const left = async (...more: string[]) =>
      (JSON.parse((await run(['across', folder, '--as', 'json', ...more])).stdout) as { leftOut: unknown[] }).leftOut;
    expect(await left()).toHaveLength(1);
    expect(await left('--content', other)).toHaveLength(1);
    expect(await left('--content', other, '--content', content)).toEqual([]);
  });
});

describe('carried over to the next release', () => {
  it('prints the file over that release, which a case over it is read with', async () => {
    const { order: _, ...plain } = everything;
    const { status, stdout } = await run(['carry', fileWith(overlayWith(plain)), '--to', '2026.2-draft']);
    expect(status).toBe(0);
    const carried = JSON.parse(stdout) as typeof overlay;
    expect(carried).toMatchObject({ base: '2026.2-draft', carriedFrom: overlayWith(plain).version });
    const over = fileWith(caseOf(log.entries, { contentVersion: carried.version }));
    const text = (await run(['note', over, '--as', 'text', '--content', fileWith(carried)])).stdout;
    expect(text.replace(/\s+/g, ' ')).toContain('lower limit 18 %');
  });

  it('is refused by the path of what has no place there, with nothing printed', async () => {
    const refused = await run(['carry', content, '--to', '2026.2-draft']);
    expect(refused.stdout).toBe('');
    expect(faults(refused)).toEqual([expect.stringMatching(/^order: has no place for uncover, /)]);
    expect(faults(await run(['carry', content]))).toEqual(['--to: missing']);
    expect(faults(await run(['carry']))).toEqual(['arguments: names no file of a department']);
  });
});
