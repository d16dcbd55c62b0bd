/** The invented case opens with the release to come; where that cannot be had: nothing is opened, least of all with another one. */
import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { Cases } from '../../src/screens/Cases.tsx';
import { room, steadyFingers, w } from './rooms.harness.tsx';

vi.mock('../../content/later.ts', async (original) => ({
  ...(await original<object>()),
  fetchReleases: () => Promise.reject(new Error('no network')),
}));

beforeEach(steadyFingers);
afterEach(cleanup);

it('opens nothing and says why', async () => {
  const at = await room(Cases);
  await at.touch(new RegExp(`^${w('cases.demo')}`));
  await vi.waitFor(() => expect(document.querySelector('.cases')?.textContent).toContain(w('failure.not-fetched')));
  expect(await at.stored()).toEqual([]);
});
