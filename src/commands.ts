/** The commands of `counterturn`, each from its arguments to what is printed and the exit status. */
import { readFile, stat } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { carryOver } from '../content/carry.ts';
import { loadContent } from '../content/catalog.ts';
import { fetchReleases } from '../content/later.ts';
import { currentVersion } from '../content/releases/index.ts';
import { languages, loadLanguage } from '../content/languages.ts';
import { applyOverlay, readOverlay, type Applied } from '../content/overlay.ts';
import type { OverlayFile } from '../content/overlay.types.ts';
import { betaInterval } from '../machines/across/beta.ts';
import { movedRates } from '../machines/across/moved.ts';
import { ownRates, updatedRates } from '../machines/across/rates.ts';
import { report } from '../machines/across/report.ts';
import { correctedByWriting } from '../machines/clocks.ts';
import { epoch } from '../machines/time.ts';
import { section } from '../machines/compute/ring.ts';
import type { Bore, Fault } from '../machines/entry.ts';
import { readCase, startOf, type CaseFile, type CaseReading } from '../machines/case-file.ts';
import type { Content } from '../content/types.ts';
import { fold } from '../machines/fold.ts';
import type { Folded } from '../machines/folded.ts';
import { forecast } from '../machines/forecast.ts';
import { readRates } from '../machines/own-rates.ts';
import { nothingAgainst, readiness } from '../machines/readiness.ts';
import type { Seals } from '../machines/seal.ts';
import { view } from '../machines/view.ts';
import { acrossCsv } from './across/csv.ts';
import { tallyFolder } from './across/folder.ts';
import { folderLessons } from './across/lessons.ts';
import { maxBytes, readJson } from './read-json.ts';
import { afterSigning } from './record/after-signing.ts';
import { loadLocale } from './record/locales/index.ts';
import { differs } from './record/reckoned.ts';
import { buildRecord, note, noteForms, type NoteForm } from './record/index.ts';

/** What is printed of a fault. */
type Line = Pick<Fault, 'path' | 'message'>;

class Refused extends Error {
  readonly faults: readonly Line[];
  constructor(...faults: Line[]) {
    super('refused');
    this.faults = faults;
  }
}

const refuse = (path: string, message: string): never => {
  throw new Refused({ path, message });
};

interface Answer {
  output: string;
  status: 0 | 1;
}

const json = (value: unknown, status: 0 | 1 = 0): Answer => ({ output: `${JSON.stringify(value, null, 2)}\n`, status });

interface Loaded {
  file: CaseFile;
  content: Content;
  seals: Seals;
  state: Folded;
  /** The department's content that the case names. */
  overlay: OverlayFile | undefined;
}

async function readBytes(path: string): Promise<Uint8Array> {
  try {
    const { size } = await stat(path);
    if (size > maxBytes) refuse('file', `larger than 16 MiB (${size} bytes)`);
    return await readFile(path);
  } catch (error) {
    if (error instanceof Refused) throw error;
    return refuse('file', `cannot be read: ${(error as NodeJS.ErrnoException).code ?? String(error)}`);
  }
}

async function readJsonFile(path: string): Promise<unknown> {
  const read = readJson(await readBytes(path));
  if ('faults' in read) throw new Refused(...read.faults);
  return read.value;
}

type Departments = ReadonlyMap<string, Extract<Applied, { content: Content }>>;

/** The departments' files given with `--content`, by version. */
async function departments(files: readonly string[]): Promise<Departments> {
  const own = new Map<string, Extract<Applied, { content: Content }>>();
  for (const file of files) {
    const read = readOverlay(await readJsonFile(file));
    if ('faults' in read)
      throw new Refused(...read.faults.map(({ path, message }) => ({ path: `--content: ${path}`, message })));
    own.set(read.content.version, read);
  }
  return own;
}

const loading = (own: Departments) => (version: string) => loadContent(version) ?? own.get(version)?.content;

/** Content in another language; a department's words and cautions lie over the release in it, not under it. */
async function told(content: Content, overlay: OverlayFile | undefined, language: string): Promise<Content> {
  if (language === 'en') return content;
  await Promise.all([loadLanguage(language), loadLocale(language)]);
  const release = overlay && loadContent(overlay.base, 'en');
  if (!release) return loadContent(content.version, language) ?? content;
  const applied = applyOverlay(release, overlay, loadContent(release.version, language));
  return 'content' in applied ? applied.content : content;
}

const withContent = { content: { type: 'string', multiple: true } } as const;
type Values = Record<string, string | string[] | boolean | undefined>;
const contentFiles = ({ content }: Values) => (content as string[] | undefined) ?? [];

async function loadCase(path: string | undefined, values: Values): Promise<Loaded> {
  if (path === undefined) return refuse('arguments', 'names no case file');
  const own = await departments(contentFiles(values));
  const reading = readCase(await readJsonFile(path), loading(own));
  if ('faults' in reading) throw new Refused(...reading.faults);
  const { file, content, seals } = reading;
  const state = fold(file.entries, content, undefined, startOf(file.entries, file.formatVersion));
  return { file, content, seals, state, overlay: own.get(content.version)?.overlay };
}

/** One case file of many: its faults are told, and stop nothing. */
const reader =
  (load: (version: string) => Content | undefined) =>
  async (path: string): Promise<CaseReading | { faults: Line[] }> => {
    try {
      return readCase(await readJsonFile(path), load);
    } catch (error) {
      if (error instanceof Refused) return { faults: [...error.faults] };
      throw error;
    }
  };

async function counted(folder: string, invented: boolean, read: ReturnType<typeof reader>) {
  try {
    return await tallyFolder(folder, read, invented);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined) throw error;
    return refuse('folder', `cannot be read: ${code}`);
  }
}

const commands: Record<string, (args: string[]) => Promise<Answer> | Answer> = {
  async state(args) {
    const { positionals, values } = parse(args, { at: { type: 'string' }, ...withContent }, 1);
    const at = values.at as string | undefined;
    if (at !== undefined && Number.isNaN(epoch(at))) refuse('--at', 'not an RFC 3339 time with an offset');
    const { state, seals } = await loadCase(positionals[0], values);
    // A time given from outside stands in the clock as it was then: only jumps before it count.
    return json(
      view(state, at === undefined ? undefined : correctedByWriting(epoch(at), Infinity, state.jumps), seals),
    );
  },

  async check(args) {
    const { positionals, values } = parse(args, withContent, 1);
    const { file, state, seals } = await loadCase(positionals[0], values);
    const { outOfOrder, unanswered, late, struck, impossibleTimes, rules } = state;
    const bad = seals.seals === 'broken' || outOfOrder.length > 0 || impossibleTimes.length > 0;
    const answer = { ...seals, entries: file.entries.length, rules: rules.number };
    const differing = differs(state, file.entries, state.content);
    const signAgain = afterSigning(state, file.entries).entries;
    return json(
      { ...answer, outOfOrder, unanswered, late, struck, impossibleTimes, signAgain, differs: differing },
      bad ? 1 : 0,
    );
  },

  async ready(args) {
    const { positionals, values } = parse(args, withContent, 1);
    const { state } = await loadCase(positionals[0], values);
    const answer = readiness(state);
    return json(answer, nothingAgainst(state, answer) ? 0 : 1);
  },

  async note(args) {
    const { positionals, values } = parse(
      args,
      { as: { type: 'string' }, lang: { type: 'string', default: 'en' }, ...withContent },
      1,
    );
    const as = noteForms.find((form) => form === values.as);
    if (!as) refuse('--as', `expected one of ${noteForms.join(', ')}`);
    const language = languages().find((one) => one === values.lang);
    if (!language) refuse('--lang', `expected one of ${languages().join(', ')}`);
    const { file, content, seals, state, overlay } = await loadCase(positionals[0], values);
    const spoken = await told(content, overlay, language as string);
    const record = buildRecord(file.entries, state, view(state, undefined, seals), spoken);
    return { output: note(as as NoteForm, record, spoken), status: 0 };
  },

  async forecast(args) {
    const { positionals, values } = parse(args, { rates: { type: 'string' }, ...withContent }, 1);
    const { state, content } = await loadCase(positionals[0], values);
    if (values.rates === undefined) return json(forecast(state));
    const own = readRates(await readJsonFile(values.rates as string), content);
    if ('faults' in own) throw new Refused(...own.faults);
    return json(forecast(state, own.rates));
  },

  async across(args) {
    const options = {
      ...({ as: { type: 'string' }, 'with-invented': { type: 'boolean' }, forecasts: { type: 'string' } } as const),
      ...withContent,
    };
    const { positionals, values } = parse(args, options, 1);
    const as = (['json', 'csv', 'rates'] as const).find((form) => form === values.as);
    if (!as) return refuse('--as', 'expected one of json, csv, rates');
    const folder = positionals[0] ?? refuse('arguments', 'names no folder');
    const most = forecastsOf(values.forecasts as string | undefined);
    const read = reader(loading(await departments(contentFiles(values))));
    const { tally, leftOut, planned } = await counted(folder, values['with-invented'] !== undefined, read);
    const content = loadContent(currentVersion) as Content;
    const figures = report(tally, content);
    const rates = updatedRates(tally, content);
    const status = leftOut.length ? 1 : 0;
    if (as === 'rates') return json(ownRates(rates, content), status);
    const moved = movedRates(rates, content);
    const lessons = await folderLessons(planned, most, read, content);
    if (as === 'csv') return { output: acrossCsv(figures, rates, leftOut, { ...lessons, moved }), status };
    const both = rates.map(({ alpha, beta, ...rate }) => ({ ...rate, ...betaInterval(alpha, beta) }));
    return json({ ...figures, leftOut, rates: both, moved, ...lessons }, status);
  },

  async carry(args) {
    const { positionals, values } = parse(args, { to: { type: 'string' } }, 1);
    const path = positionals[0] ?? refuse('arguments', 'names no file of a department');
    const to = (values.to as string | undefined) ?? refuse('--to', 'missing');
    const carried = carryOver(await readJsonFile(path), to);
    if ('faults' in carried) throw new Refused(...carried.faults);
    return json(carried.overlay);
  },

  bone(args) {
    const { values } = parse(
      args,
      { outer: { type: 'string' }, cortex: { type: 'string' }, bore: { type: 'string', multiple: true } },
      0,
    );
    const outer = millimetres('--outer', values.outer as string | undefined);
    const cortex = millimetres('--cortex', values.cortex as string | undefined);
    if (cortex >= outer / 2) refuse('--cortex', 'must be less than half the outer diameter');
    const bores = ((values.bore as string[] | undefined) ?? []).map((text, i) => boreOf(`--bore[${i}]`, text, outer));
    return json(section(outer, cortex, bores));
  },
};

/** Cases whose forecasts are reckoned when nobody says how many: the newest. Each takes a few tenths of a second. */
const usualForecasts = 40;

function forecastsOf(text: string | undefined): number {
  if (text === undefined) return usualForecasts;
  if (text === 'all') return Infinity;
  return /^\d+$/.test(text) ? Number(text) : refuse('--forecasts', `"${text}" is not "all" or a whole number`);
}

const boneBore = /^(near|far|both):(\d+(?:\.\d+)?)(?:x(\d+(?:\.\d+)?))?(?:@(-?\d+(?:\.\d+)?))?$/;

/** `WALL:MM[xLENGTH][@DEG]`, such as `near:6.5x40@30`. */
function boreOf(path: string, text: string, outer: number): Bore {
  const match = boneBore.exec(text);
  if (!match) return refuse(path, `"${text}" is not WALL:MM[xLENGTH][@DEG] with near, far or both`);
  const [, wall, diameter, length, turn] = match;
  const bore = { wall: wall as Bore['wall'], diameter: Number(diameter) };
  if (bore.diameter <= 0) refuse(path, 'the diameter must be greater than 0');
  if (bore.diameter >= outer) refuse(path, `a bore of ${bore.diameter} mm is as wide as the bone of ${outer} mm`);
  if (![Number(length ?? 0), Number(turn ?? 0)].every(Number.isFinite))
    refuse(path, `"${text}" holds a number that is too large`);
  return {
    ...bore,
    ...(length !== undefined && { length: Number(length) }),
    ...(turn !== undefined && { turn: Number(turn) }),
  };
}

function millimetres(path: string, text: string | undefined): number {
  if (text === undefined) return refuse(path, 'missing');
  const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : NaN;
  return Number.isFinite(value) && value > 0 ? value : refuse(path, `"${text}" is not a length in mm greater than 0`);
}

type Options = NonNullable<NonNullable<Parameters<typeof parseArgs>[0]>['options']>;

/** Checked arguments: at most so many files, and only the options named. */
function parse(args: string[], options: Options, files: number) {
  try {
    const { positionals, values } = parseArgs({ args, options, allowPositionals: true, strict: true });
    if (positionals.length > files) refuse('arguments', `unexpected "${positionals[files]}"`);
    return { positionals, values: values as Record<string, string | string[] | undefined> };
  } catch (error) {
    if (error instanceof Refused) throw error;
    return refuse('arguments', (error as Error).message.split('\n')[0] as string);
  }
}

/** Control characters of a file are shown, not sent to the terminal: a fault stays one line. */
const visible = (text: string) =>
  text.replace(
    /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

const lines = (faults: readonly Line[]) =>
  faults.map(({ path, message }) => `${visible(`${path}: ${message}`)}\n`).join('');

export interface Ran {
  status: 0 | 1 | 2;
  stdout: string;
  stderr: string;
}

/**
 * Runs one command.
 *
 * @param argv the command's name and its arguments
 * @returns status 0; 1 where the answer is "no"; 2 where the input is refused, with one line per fault in `stderr`
 *   and nothing in `stdout`; never throws
 * @example await run(['bone', '--outer', '27']) // { status: 2, stdout: '', stderr: '--cortex: missing\n' }
 */
export async function run([name, ...args]: readonly string[]): Promise<Ran> {
  try {
    const command = name !== undefined && Object.hasOwn(commands, name) ? commands[name] : undefined;
    if (!command)
      return refuse(
        'arguments',
        `${name === undefined ? 'names no command' : `unknown command "${name}"`}, expected one of ${Object.keys(commands).join(', ')}`,
      );
    await fetchReleases();
    const { output, status } = await command(args);
    return { status, stdout: output, stderr: '' };
  } catch (error) {
    const faults =
      error instanceof Refused
        ? error.faults
        : [{ path: 'counterturn', message: `unexpected fault: ${(error as Error).message}` }];
    return { status: 2, stdout: '', stderr: lines(faults) };
  }
}
