/** A screw that was seen to be whole and measured by nobody, and words that were said of a move after it: their sentences. */
import { expect, it } from 'vitest';
import { papersOf, Story } from './situations.ts';

const story = () =>
  new Story()
    .opened('10:00')
    .screw('10:01', '1')
    .screw('10:01', '2')
    .room('10:02')
    .tell('10:05', { type: 'work-started' })
    .begins('10:10', '1', 'turn-out')
    .ends('10:11', '1', 'out')
    .tell('10:11', { type: 'piece-recovered', screw: '1', whole: true })
    .begins('10:12', '2', 'turn-out')
    .ends('10:13', '2', 'slipped')
    .tell('10:13', { type: 'move-answered', of: 9, recess: 'sound' });

it('says that tip and head were seen, not that the screw was taken as whole', () => {
  expect(papersOf(story().entries).section('metal')[0]).toMatch(/; not measured; whole, tip and head seen$/);
  expect(papersOf(story().entries, 'de').section('metal')[0]).toMatch(
    /; nicht gemessen; heil, Spitze und Kopf gesehen$/,
  );
});

it('tells what was said of a move as one sentence', () => {
  const last = (language?: 'de') => papersOf(story().entries, language).rows.at(-1)?.sentence;
  expect(last()).toBe('Of the move in entry 9 it was said: the recess was sound.');
  expect(last('de')).toMatch(/^Zum Schritt in Eintrag 9 wurde gesagt: /);
});
