import { expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import { demoPin } from '../../src/session/demo.ts';
import { everything, overlayWith } from '../content/overlays.ts';

it('leaves an invented case to the release of the device where the newest cannot be fetched', async () => {
  const none = async () => {
    throw new Error('no network');
  };
  expect(await demoPin(null, none)).toBeUndefined();
});

it('opens an invented case with the newest release, a draft too', async () => {
  const pin = await demoPin(null);
  expect(loadContent(pin?.contentVersion ?? '')?.version).toBe('2026.2-draft');
  expect(pin).toEqual({ contentVersion: '2026.2-draft' });
});

it('opens it with the content of the department while one is in use', async () => {
  expect(await demoPin({ version: 'dept-1' } as OverlayFile)).toBeUndefined();
});

it('opens it with that content carried over to the newest release; as it is where some of it has no place there', async () => {
  const { order, ...plain } = everything;
  const carried = await demoPin(overlayWith(plain));
  expect(carried?.overlay).toMatchObject({ base: '2026.2-draft', carriedFrom: overlayWith(plain).version });
  expect(await demoPin(overlayWith({ ...plain, order }))).toBeUndefined();
});
