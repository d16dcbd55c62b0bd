/** What failed, and what a start had to tell, in the words of the screens: a code and its parameters, put into words. */
import type { Fault } from '../../content/shape.ts';
import type { Failure } from '../failure.ts';
import type { Messages } from '../format/messages.ts';
import type { StartReport } from '../store/mirrored-log.ts';
import type { CopyName } from '../store/port.ts';

const isFailure = (value: unknown): value is Failure => typeof value === 'object' && value !== null && 'code' in value;

/** Longest sentence about one fault: a list of every value that is known can be long. */
const longest = 300;

/**
 * What is wrong with a file or an entry, without its place.
 *
 * @example faultWords(w, fault('tools', 'no-tool')) // 'enthält kein Werkzeug' in German
 */
export function faultWords(w: Messages, { code, values, message }: Fault): string {
  const key = `fault.${code}`;
  const said = w(key, values);
  // Before its words have come: as the command line says it.
  return (said === key ? message : said).slice(0, longest);
}

/**
 * A failure in words; a failure inside it is put into words first.
 *
 * @example failureWords(w, { code: 'database', reason: { code: 'reads-only' } }) // 'Datenbank: dieses Fenster liest nur'
 */
export function failureWords(w: Messages, { code, ...parameters }: Failure): string {
  const inWords = ([name, value]: [string, unknown]): [string, string | number] => {
    if (isFailure(value)) return [name, failureWords(w, value)];
    if (name === 'faults')
      return [name, (value as Fault[]).map((one) => `${one.path}: ${faultWords(w, one)}`).join('; ')];
    if (Array.isArray(value)) return [name, value.join(', ')];
    return [name, value as string | number];
  };
  return w(`failure.${code}`, Object.fromEntries(Object.entries(parameters).map(inWords)));
}

/**
 * Why an entry was not recorded, in words.
 *
 * @param cannot key of what is said when it cannot have happened at this point
 */
export const outcomeWords = (w: Messages, reason: Failure, cannot = 'record.too-late'): string =>
  reason.code === 'out-of-order' ? w(cannot) : failureWords(w, reason);

/** Several reasons behind one another. */
export const allFailureWords = (w: Messages, reasons: readonly Failure[]): string =>
  reasons.map((reason) => failureWords(w, reason)).join('; ');

/** Lines that a start had to tell: what was healed, damaged, refused. */
export function startWords(w: Messages, { restored, damaged, refused, disagreements }: StartReport): string[] {
  const name = (copy: CopyName) => w(`start.copy.${copy}`);
  return [
    ...restored.map(({ entries, from }) =>
      w(entries === 1 ? 'start.restored-one' : 'start.restored', { count: entries, copy: name(from) }),
    ),
    ...damaged.map(({ copy, what }) => w('start.damaged', { copy: name(copy), what: failureWords(w, what) })),
    ...refused.map(({ copy, reason }) => w('start.refused', { copy: name(copy), reason: failureWords(w, reason) })),
    ...disagreements.map(() => w('start.differed')),
  ];
}
