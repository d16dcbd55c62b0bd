/**
 * What is read aloud or in a hurry, in German: the lines to read aloud, the holds and the help, by the fourth Wiener
 * Sachtextformel (`reading-age.ts`). The page for the patient: `patient-paper.test.ts`.
 */
import { describe, expect, it } from 'vitest';
import { translated } from '../../content/translation.ts';
import { german } from '../content/german.ts';
import { content } from '../record/cases.ts';
import { yearOf } from './reading-age.ts';

describe('German', () => {
  const spoken = translated(content, german);
  const { holds, moves, stages, consent, words } = spoken.phrases;
  const inWords = (key: RegExp) =>
    Object.entries(words).flatMap(([name, text]) => (key.test(name) && typeof text === 'string' ? [text] : []));
  const texts: [string, string[]][] = [
    ['lines to read aloud', [stages, moves, holds].flatMap((all) => Object.values(all).map(({ say }) => say))],
    ['holds', Object.values(holds).map(({ help }) => help)],
    ['points of consent', Object.values(consent).map(({ help }) => help)],
    ['first help', inWords(/^plan\.help\.\d\.text$/)],
  ];

  it.each(texts)('reads in the eighth school year or below: %s', (_, lines) => {
    expect(lines.length).toBeGreaterThan(5);
    expect(yearOf(lines, 'de')).toBeLessThanOrEqual(8);
  });
});
