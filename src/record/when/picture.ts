/** When everything happened, as a picture: shapes with their places, the same for screen, print and file. */
import { cuffChanges } from '../../../machines/cuff.ts';
import { inZone } from '../../../machines/time.ts';
import { ranges } from '../../format/prose.ts';
import { offsetAt, type RecordLog } from '../log.ts';
import type { Attempt, RecordFacts, ScrewFate } from '../model.ts';
import { looks, signs, type Box, type Look, type Shape, type Sign, type TimePicture } from './shapes.ts';

/** How wide a picture is and how large its words, in quarters of a millimetre; `chars`: room for the name of a row. */
export const forms = {
  paper: { width: 680, text: 12, chars: 19 },
  screen: { width: 600, text: 20, chars: 10 },
} as const;
/** A character is at most so wide, in parts of the size of the text. */
const wide = 0.62;

/** The places of a picture of one form. */
interface Measure {
  width: number;
  text: number;
  labels: number;
  left: number;
  right: number;
  /** From row to row. */
  row: number;
  widthOf: (words: string) => number;
}

function measureOf({ width, text, chars }: (typeof forms)[keyof typeof forms]): Measure {
  const widthOf = (words: string) => [...words].length * text * wide;
  const labels = chars * text * wide;
  const ends = 8 * text * wide + 8;
  return { width, text, labels, left: labels + 6, right: width - ends, row: Math.round(text * 1.6), widthOf };
}

/** As much of the words as there is room for. */
function fitted({ text }: Measure, words: string, room: number): string {
  const most = Math.floor(room / (text * wide) + 1e-9);
  const all = [...words];
  return all.length <= most ? words : `${all.slice(0, Math.max(1, most - 1)).join('')}…`;
}

const textAt = ({ text, widthOf }: Measure, words: string, x: number, y: number, bold = false): Shape => ({
  ...{ kind: 'text', text: words, bold, x, y, width: widthOf(words), height: text },
});

/** Minutes between two marks of the axis. */
const steps = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440, 2880, 10_080, 43_200, 525_600, 5_256_000];
const longest = 5_256_000;
const aMinute = 60_000;

interface Span {
  from: number;
  to: number;
}

interface Row {
  label: string;
  bars: { from: number; to: number; look: Look; n: number[] }[];
  marks: { at: number; sign: Sign; n: number[] }[];
  end: string;
}

const lookOf = ({ outcome, gained, endedBy }: Attempt): Look =>
  endedBy === null || outcome === null ? 'open-end' : outcome === 'out' ? 'out' : gained ? 'gain' : 'no-gain';

const broken: readonly Attempt['outcome'][] = ['shank-broke', 'tool-broke', 'tool-jammed'];
const signOf = ({ outcome, gained }: Attempt): Sign | null =>
  outcome === 'slipped' ? 'slip' : broken.includes(outcome) || (outcome === 'head-sheared' && !gained) ? 'broke' : null;

function screwRow(log: RecordLog, fate: ScrewFate, last: number): Row {
  const { locale } = log;
  const attempts = fate.attempts.filter(({ n }) => !log.isAfterClosing(n));
  const bars: Row['bars'] = attempts.map((attempt) => ({
    from: attempt.from,
    to: Math.max(attempt.from, attempt.to ?? last),
    look: lookOf(attempt),
    n: attempt.endedBy === null ? [attempt.n] : [attempt.n, attempt.endedBy],
  }));
  const marks = attempts.flatMap((attempt) => {
    const sign = signOf(attempt);
    return sign ? [{ at: attempt.to ?? attempt.from, sign, n: [attempt.n, attempt.endedBy ?? attempt.n] }] : [];
  });
  const stays = log.of('left-in').filter(({ screw, n }) => screw === fate.id && !log.isAfterClosing(n));
  bars.push(
    ...stays.map((entry) => ({ from: log.at(entry), to: log.at(entry), look: 'stays' as const, n: [entry.n] })),
  );
  const { picture } = locale;
  const end = fate.stage === 'out' ? picture.out : fate.stage === 'left-in' ? picture.stays : picture.isIn;
  return { label: locale.screw(fate.id), bars, marks, end };
}

/** A screw that came out at the first go: nothing more to see of it than when. */
const isSimple = (fate: ScrewFate): boolean =>
  fate.stage === 'out' && fate.attempts.length === 1 && fate.attempts[0]?.outcome === 'out';
/** More rows than so many: simple ones stand in one. */
const manyRows = 6;

function screwRows(log: RecordLog, screws: readonly ScrewFate[], last: number, { widthOf, labels }: Measure): Row[] {
  const simple = screws.filter(isSimple);
  if (screws.length <= manyRows || simple.length < 2) return screws.map((fate) => screwRow(log, fate, last));
  const rows = simple.map((fate) => screwRow(log, fate, last));
  const ids = ranges(simple.map(({ id }) => log.locale.clean(id)));
  const label = log.locale.firstPage.screws(ids);
  const joined: Row = {
    label: widthOf(label) <= labels ? label : log.locale.picture.screws(simple.length),
    bars: rows.flatMap(({ bars }) => bars),
    marks: [],
    end: log.locale.picture.out,
  };
  return [joined, ...screws.filter((fate) => !isSimple(fate)).map((fate) => screwRow(log, fate, last))];
}

function cuffRow(log: RecordLog, last: number): Row[] {
  const told = log.of('tourniquet');
  const changes = cuffChanges(log.folded.case.context.cuff).flatMap(({ n }) => told.find((one) => one.n === n) ?? []);
  const bars = changes.flatMap((up, i): Row['bars'] => {
    if (up.to !== 'up') return [];
    const down = changes[i + 1];
    const n = down ? [up.n, down.n] : [up.n];
    return [{ from: log.at(up), to: Math.max(log.at(up), down ? log.at(down) : last), look: 'cuff', n }];
  });
  return bars.length ? [{ label: log.locale.picture.tourniquet, bars, marks: [], end: '' }] : [];
}

/** Plate off, work stopped: what is of no single screw. */
function caseRow(log: RecordLog): Row[] {
  const off = log.of('plate-off').map((entry) => ({ at: log.at(entry), sign: 'off' as const, n: [entry.n] }));
  const stops = log.of('stopped').map((entry) => ({ at: log.at(entry), sign: 'stopped' as const, n: [entry.n] }));
  return off.length + stops.length
    ? [{ label: log.locale.picture.case, bars: [], marks: [...off, ...stops], end: '' }]
    : [];
}

/** Where the marks of the axis stand: whole steps by the clock of the place, also past midnight and a change of it. */
function axis(log: RecordLog, { from, to }: Span, x: (ms: number) => number, y: number, measure: Measure): Shape[] {
  const { width, text, row, left, right, widthOf } = measure;
  const { time } = inZone(from, log.zone);
  const past = Number(time.slice(3, 5)) * aMinute + Number(time.slice(6, 8)) * 1000 + (from % 1000);
  const hour = from - past - Number(time.slice(0, 2)) * 60 * aMinute;
  const room = right - left;
  const step =
    (steps.find((minutes) => ((minutes * aMinute) / (to - from)) * room >= widthOf('00:00') + 1.2 * text) ?? longest) *
    aMinute;
  const shapes: Shape[] = [];
  // A line for the day and one for the offset: each where it changes, or at the end of the axis when no mark is left.
  const below = [
    { of: (ms: number) => log.locale.day(inZone(ms, log.zone).date), was: '', free: 0, y: y + 2.6 * text },
    { of: (ms: number) => offsetAt(ms, log.zone), was: '', free: 0, y: y + 3.9 * text },
  ];
  const tell = (ms: number, at: number) => {
    for (const line of below) {
      const words = line.of(ms);
      const start = Math.min(at, width - widthOf(words));
      if (words === line.was || start < line.free) continue;
      shapes.push(textAt(measure, words, start, line.y));
      [line.was, line.free] = [words, start + widthOf(words) + text / 2];
    }
  };
  for (let ms = hour + Math.ceil((from - hour) / step) * step; ms <= to; ms += step) {
    const at = x(ms);
    const clock = inZone(ms, log.zone).time.slice(0, 5);
    const start = at - widthOf(clock) / 2;
    shapes.push({ kind: 'line', x1: at, y1: row, x2: at, y2: y }, textAt(measure, clock, start, y + 1.3 * text));
    tell(ms, start);
  }
  tell(to, right);
  return shapes;
}

function legend(
  log: RecordLog,
  rows: readonly Row[],
  y: number,
  measure: Measure,
): { shapes: Shape[]; height: number } {
  const { width, text, row, widthOf } = measure;
  const has = (look: Look) => rows.some(({ bars }) => bars.some((bar) => bar.look === look));
  const marked = (sign: Sign) => rows.some(({ marks }) => marks.some((mark) => mark.sign === sign));
  const shapes: Shape[] = [];
  let [x, line] = [0, y];
  const place = (words: string, shape: (box: Box) => Shape) => {
    const all = 1.5 * text + widthOf(words) + text;
    if (x > 0 && x + all > width) [x, line] = [0, line + row];
    shapes.push(shape({ x, y: line, width: text, height: text }), textAt(measure, words, x + 1.5 * text, line));
    x += all;
  };
  for (const look of looks)
    if (has(look)) place(log.locale.picture.looks[look], (box) => ({ kind: 'bar', look, from: [], ...box }));
  for (const sign of signs)
    if (marked(sign)) place(log.locale.picture.signs[sign], (box) => ({ kind: 'sign', sign, from: [], ...box }));
  return { shapes, height: shapes.length ? line + row - y : 0 };
}

/**
 * When everything happened.
 *
 * @param form for paper, or for a screen that is read from 0.7 m
 * @returns null where nothing has a time: no move, no cuff, no stop
 * @example timePicture(log, facts)?.shapes.filter(({ kind }) => kind === 'bar').length // one an attempt, and the cuff
 */
export function timePicture(
  log: RecordLog,
  { screws }: Pick<RecordFacts, 'screws'>,
  form: keyof typeof forms = 'paper',
): TimePicture | null {
  const measure = measureOf(forms[form]);
  const { width, text, row, left, right, labels } = measure;
  const during = log.effective.filter(({ n }) => !log.isAfterClosing(n));
  const lastEntry = during.at(-1);
  if (!lastEntry) return null;
  const last = Math.max(...during.map((entry) => log.at(entry)));
  const rows = [...cuffRow(log, last), ...caseRow(log), ...screwRows(log, screws, last, measure)];
  const times = rows.flatMap(({ bars, marks }) => [
    ...bars.flatMap(({ from, to }) => [from, to]),
    ...marks.map(({ at }) => at),
  ]);
  if (!times.length) return null;
  const from = Math.min(...times);
  const to = Math.max(...times, from + aMinute);
  const x = (ms: number) => left + ((ms - from) / (to - from)) * (right - left - text);
  const foot = rows.length * row + row - 0.9 * text;
  const shapes = rows.flatMap(({ label, bars, marks, end }, i): Shape[] => {
    const y = row + i * row;
    return [
      textAt(measure, fitted(measure, label, labels), 0, y),
      { kind: 'line', x1: left, y1: y + text / 2, x2: right, y2: y + text / 2 },
      ...bars.map((bar): Shape => {
        const least = (bar.look === 'stays' ? 0.7 : 0.25) * text;
        return {
          ...{ kind: 'bar', look: bar.look, from: bar.n, x: x(bar.from), y, height: text },
          width: Math.max(least, x(bar.to) - x(bar.from)),
        };
      }),
      ...marks.map((mark): Shape => ({
        kind: 'sign',
        sign: mark.sign,
        from: mark.n,
        x: x(mark.at),
        y,
        width: 10,
        height: text,
      })),
      ...(end === '' ? [] : [textAt(measure, fitted(measure, end, width - right - 8), right + 8, y, true)]),
    ];
  });
  const key = legend(log, rows, foot + 5.6 * text, measure);
  return {
    width,
    text,
    height: foot + 5.6 * text + key.height + 2,
    // Lines lie under everything.
    shapes: [...axis(log, { from, to }, x, foot, measure), ...shapes, ...key.shapes].sort(
      (a, b) => Number(b.kind === 'line') - Number(a.kind === 'line'),
    ),
    alt: log.locale.picture.alt(
      rows.length,
      inZone(from, log.zone).time.slice(0, 5),
      inZone(to, log.zone).time.slice(0, 5),
    ),
  };
}
