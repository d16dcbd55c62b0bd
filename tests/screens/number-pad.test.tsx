/** A figure with a comma, as it is typed where a comma is what people write: the number that is told is the same. */
import { cleanup, fireEvent, render, screen } from '@solidjs/testing-library';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { speakFigures } from '../../src/format/figures.ts';
import { NumberPad } from '../../src/parts/NumberPad.tsx';
import { steadyFingers } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(() => {
  cleanup();
  speakFigures('en');
});

function pad(language: string) {
  speakFigures(language);
  const onDone = vi.fn<(value: number | null) => void>();
  const words = { done: 'done', back: 'back', range: 'range' };
  render(() => <NumberPad label="length" unit="mm" value={null} min={0} max={200} words={words} onDone={onDone} />);
  const type = (...keys: string[]) => {
    for (const name of [...keys, 'done']) {
      steadyFingers();
      const key = screen.getByRole('button', { name });
      fireEvent.pointerDown(key);
      fireEvent.pointerUp(key);
      fireEvent.click(key);
    }
    return onDone.mock.lastCall?.[0];
  };
  return { type };
}

it('is 3.5 by 3 , 5 in German, and 3 . 5 in English', () => {
  expect(pad('de').type('3', ',', '5')).toBe(3.5);
  cleanup();
  expect(pad('en').type('3', '.', '5')).toBe(3.5);
});

it('has one comma, and one digit behind it', () => {
  expect(pad('de').type('3', ',', ',', '5', '9')).toBe(3.5);
});
