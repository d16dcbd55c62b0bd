/** With which content a case over a later release is opened where a department's content is in use. */
import { describe, expect, it } from 'vitest';
import { pinOver, standingOver, carriedTo } from '../../src/session/carried.ts';
import { everything, overlayWith } from '../content/overlays.ts';

const { order, ...plain } = everything;

describe('a case over a later release', () => {
  it('is opened with the content of the department carried over', async () => {
    const inUse = overlayWith(plain);
    const { pin, refused } = await pinOver(inUse);
    expect(refused).toEqual([]);
    expect(pin?.contentVersion).toMatch(new RegExp(`^${carriedTo.replace('.', '\\.')}\\+ward-1\\.`));
    expect(pin?.overlay).toMatchObject({ base: carriedTo, carriedFrom: inUse.version });
    expect(await standingOver(pin?.overlay as typeof inUse)).toMatchObject({ state: 'there' });
  });

  it('is opened with the release alone where some of it has no place, and that is told by its path', async () => {
    const { pin, refused } = await pinOver(overlayWith({ ...plain, order }));
    expect(pin).toEqual({ contentVersion: carriedTo });
    expect(refused.map(({ path }) => path)).toEqual(['order']);
  });

  it('is opened with the release where no content of a department is in use', async () => {
    expect(await pinOver(null)).toEqual({ pin: { contentVersion: carriedTo }, refused: [] });
  });

  it('is opened with neither where the release cannot be had', async () => {
    const none = () => Promise.reject(new Error('no network'));
    expect(await pinOver(null, '2099.1', none)).toEqual({ pin: null, refused: [] });
    expect(await pinOver(overlayWith(plain), '2099.1', none)).toEqual({ pin: null, refused: [] });
  });
});
