/** Parts of the app in scripts of their own: words while they come, words when they cannot, and another try. */
import { cleanup, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { loadDeferred } from '../../src/deferred.ts';
import { later } from '../../src/screens/later.tsx';
import { room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(cleanup);

const Part = (props: { named?: string }) => <p>the part {props.named}</p>;

it('says that a part is coming, then shows it', async () => {
  let arrive = (_: typeof Part) => {};
  await room(later(() => new Promise<typeof Part>((done) => (arrive = done))));
  expect(screen.getByRole('status').textContent).toBe(w('later.coming'));
  arrive(Part);
  await waitFor(() => expect(screen.getByText(/the part/)).toBeTruthy());
  expect(screen.queryByRole('status')).toBeNull();
});

it('says that a part cannot be had, and asks for it again when told to', async () => {
  const load = vi.fn(() => Promise.resolve(Part)).mockImplementationOnce(() => Promise.reject(new Error('gone')));
  const { touch } = await room(later<{ named?: string }>(load));
  await waitFor(() => expect(screen.getByRole('status').textContent).toBe(w('later.missing')));
  await touch(w('later.again'));
  await waitFor(() => expect(screen.getByText(/the part/)).toBeTruthy());
  expect(load).toHaveBeenCalledTimes(2);
});

it('draws a part at once when it was fetched before, and fetches each only once', async () => {
  const load = vi.fn(() => Promise.resolve(Part));
  const Later = later<{ named?: string }>(load);
  await loadDeferred();
  await room(() => <Later named="named" />);
  expect(screen.getByText('the part named')).toBeTruthy();
  expect(load).toHaveBeenCalledTimes(1);
});
