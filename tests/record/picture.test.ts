/** The picture of time: every move in it, no words over others, whole past midnight and a change of the clock. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fold } from '../../machines/fold.ts';
import { view } from '../../machines/view.ts';
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import type { Entry } from '../../machines/entry.ts';
import { buildRecord, note } from '../../src/record/index.ts';
import type { Shape, TimePicture } from '../../src/record/when/shapes.ts';
import { svgOf } from '../../src/record/when/svg.ts';
import { loadLanguage } from '../../content/languages.ts';
import { loadLocale } from '../../src/record/locales/index.ts';
import { explore } from '../explore.ts';
import { Log } from '../machines/build.ts';
import { content } from './cases.ts';
import { randomLog } from './random-log.ts';

await Promise.all([loadLocale('de'), loadLanguage('de')]);

type Pictures = { paper: TimePicture; screen: TimePicture } | null;

function picturesOf(entries: readonly Entry[], spoken: Content = content): Pictures {
  const folded = fold(entries, spoken);
  const { first } = buildRecord(entries, folded, view(folded), spoken);
  const block = first.sections.flatMap(({ blocks }) => blocks).find(({ kind }) => kind === 'picture');
  return block?.kind === 'picture' ? { paper: block.picture, screen: block.onScreen } : null;
}

type Boxed = Extract<Shape, { width: number }>;
const boxes = ({ shapes }: TimePicture) => shapes.filter((shape): shape is Boxed => shape.kind !== 'line');
const texts = (picture: TimePicture) => boxes(picture).filter((shape) => shape.kind === 'text');
const meet = (a: Boxed, b: Boxed) =>
  a.x < b.x + b.width - 0.01 &&
  b.x < a.x + a.width - 0.01 &&
  a.y < b.y + b.height - 0.01 &&
  b.y < a.y + a.height - 0.01;

/** Words over words or over bars, and what lies outside of the picture. */
function faults(picture: TimePicture): string[] {
  const all = boxes(picture);
  const words = texts(picture);
  const named = (shape: Boxed) => (shape.kind === 'text' ? shape.text : shape.kind);
  return [
    ...words.flatMap((word, i) =>
      all.flatMap((other) =>
        other !== word && (other.kind !== 'text' || words.indexOf(other) > i) && meet(word, other)
          ? [`"${named(word)}" over "${named(other)}"`]
          : [],
      ),
    ),
    ...all.flatMap((shape) =>
      shape.x < -0.01 ||
      shape.y < -0.01 ||
      shape.x + shape.width > picture.width + 0.01 ||
      shape.y + shape.height > picture.height + 0.01
        ? [`"${named(shape)}" outside`]
        : [],
    ),
  ];
}

/** Six hours over midnight and the end of summer time in Oslo, with fourteen screws and 300 entries and more. */
function longNight(): Log {
  const log = new Log('2026-10-24T19:30:00Z').opened();
  for (let i = 1; i <= 14; i++) log.screw(String(i));
  log.start().write({ type: 'tourniquet', to: 'up' });
  for (let round = 0; round < 7; round++)
    for (let i = 1; i <= 14; i++) {
      log.call(String(i)).after(2.2).begins(String(i), 'turn-out').after(1);
      log.ends(String(i), round === 6 ? 'out' : round % 2 ? 'slipped' : 'no-change');
    }
  return log.write({ type: 'tourniquet', to: 'down' }).write({ type: 'plate-off' }).write({ type: 'work-ended' });
}

describe('the picture of time', () => {
  it('has each move once, with its entries, and the cuff', () => {
    const log = new Log().opened().screw('1').screw('2').start().write({ type: 'tourniquet', to: 'up' });
    log.after(5).tries('1', 'turn-out', 'out').tries('2', 'turn-out', 'slipped').leaves('2');
    const { paper } = picturesOf(log.entries) as NonNullable<Pictures>;
    const from = paper.shapes.flatMap((shape) =>
      'from' in shape && shape.kind === 'bar' && shape.from.length ? [shape.from] : [],
    );
    expect(from).toEqual([[5], [6, 7], [8, 9], [10]]);
    const looks = paper.shapes.flatMap((shape) => (shape.kind === 'bar' && shape.from.length ? [shape.look] : []));
    expect(looks).toEqual(['cuff', 'out', 'no-gain', 'stays']);
    expect(
      paper.shapes.filter((shape) => shape.kind === 'sign' && shape.sign === 'slip' && shape.from.length),
    ).toHaveLength(1);
  });

  it('is none where nothing was done', () => expect(picturesOf(new Log().opened().screw('1').entries)).toBeNull());

  it.each(['en', 'de'])(
    'stays legible with 300 entries over six hours, midnight and a change of the clock (%s)',
    (language) => {
      const log = longNight();
      expect(log.n).toBeGreaterThan(300);
      const pictures = picturesOf(log.entries, loadContent('2026.1', language)) as NonNullable<Pictures>;
      for (const picture of Object.values(pictures)) {
        expect(faults(picture)).toEqual([]);
        const said = texts(picture).map(({ text }) => text);
        expect(said.some((text) => /UTC\+02:00/.test(text))).toBe(true);
        expect(said.some((text) => /UTC\+01:00/.test(text))).toBe(true);
        expect(said).toContain('00:00');
      }
    },
  );

  it('never has words over others, on paper and on the screen, in any log', () => {
    explore(
      fc.property(randomLog, (entries) => {
        const pictures = picturesOf(entries);
        for (const picture of Object.values(pictures ?? {})) expect(faults(picture)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('reads without colour: fill, hatch, outline and shape tell bars and signs apart', () => {
    const svg = svgOf((picturesOf(longNight().entries) as NonNullable<Pictures>).paper);
    const colours = new Set(svg.match(/#[0-9a-f]{6}/g));
    for (const colour of colours) {
      const [r, g, b] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16)) as [number, number, number];
      expect(Math.max(r, g, b) - Math.min(r, g, b), `${colour} is no grey`).toBeLessThan(20);
    }
  });

  it('takes nothing that was typed for mark-up, and is a file beside the Markdown', () => {
    const log = new Log().opened().screw('<b>&"').start().tries('<b>&"', 'turn-out', 'out');
    const folded = fold(log.entries, content);
    const record = buildRecord(log.entries, folded, view(folded), content);
    const svg = note('picture', record, content);
    expect(svg).toContain('&lt;b&gt;&amp;&quot;');
    expect(svg).not.toContain('<b>');
    const name = /\]\((counterturn-[^)]*-time\.svg)\)/.exec(note('markdown', record, content))?.[1];
    expect(name).toMatch(/^counterturn-2026-03-04-unsealed-draft-time\.svg$/);
  });
});
