import type { App } from '../app.ts';
import { ranges } from '../../format/lists.ts';

/** The messages on assumed measures: of the bone, of the reamer, and of single screws by fact. */
export function assumedWords({ w }: App, assumed: readonly string[]): string[] {
  const of = (what: string) =>
    assumed.flatMap((one) => (one.startsWith(`${what}:`) ? [one.slice(what.length + 1)] : []));
  const bones = of('bone');
  const lengths = of('length');
  return [
    ...(assumed.includes('bone') ? [w('briefing.assumed.bone')] : []),
    ...(bones.length > 0 ? [w('briefing.assumed.bone-at', { screws: ranges(bones) })] : []),
    ...(assumed.includes('reamer') ? [w('briefing.assumed.reamer')] : []),
    ...(lengths.length > 0 ? [w('briefing.assumed.length', { screws: ranges(lengths) })] : []),
  ];
}
