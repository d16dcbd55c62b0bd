/**
 * Which tests are to hold which file of `machines/`: those that speak of what it does. A mutant that they miss counts as
 * survived, even when some other test of the project would see it.
 */
const machine = (...names: string[]) => names.map((name) => `tests/machines/${name}.test.ts`);
const compute = (...names: string[]) => names.map((name) => `tests/compute/${name}.test.ts`);
const standards = (...names: string[]) => names.map((name) => `tests/standards/${name}.test.ts`);
const releases = (...names: string[]) => names.map((name) => `tests/releases/${name}.test.ts`);

export const suites: Readonly<Record<string, readonly string[]>> = {
  'machines/compute/metal.ts': machine('metal', 'metal-2', 'metal-later', 'metal-laws', 'tolerance'),
  'machines/compute/metal-1.ts': machine('metal-1', 'tips'),
  'machines/compute/tip-pieces.ts': machine('tips', 'metal', 'metal-later'),
  'machines/compute/parts.ts': machine('parts', 'metal-2'),
  'machines/account.ts': machine('metal', 'metal-1', 'metal-2', 'parts'),
  'machines/late.ts': machine('late', 'clocks'),
  'machines/past.ts': machine('past', 'late'),
  'machines/cuff.ts': machine('cuff', 'late', 'clocks'),
  'machines/hindsight.ts': machine('hindsight', 'late', 'strike', 'reassigned', 'answered'),
  'machines/dispatch.ts': [
    ...machine('order', 'strike', 'stages', 'holds', 'holds-case', 'transition', 'metal'),
    ...machine('metal-later', 'answered'),
  ],
  'machines/standing.ts': machine('holds', 'holds-case', 'order', 'folded'),
  'machines/compute/ring.ts': [...compute('ring', 'ring-grid'), ...standards('bone')],
  'machines/compute/torsion.ts': [...compute('torsion'), ...standards('bone')],
  'machines/compute/bone-cost.ts': compute('bone-cost'),
  'machines/compute/fit.ts': [...compute('fit'), ...machine('tools')],
  'machines/compute/fragment.ts': compute('fragment'),
  'machines/compute/absorb.ts': compute('absorb'),
  'machines/compute/through.ts': compute('through', 'absorb'),
  'machines/readiness.ts': machine('readiness'),
  'machines/strike.ts': machine('strike', 'order', 'format-2'),
  'machines/time.ts': [...machine('time'), ...standards('rfc3339')],
  'machines/clocks.ts': machine('clocks'),
  'machines/guards.ts': machine('holds', 'holds-case', 'answered'),
  'machines/seal.ts': [...machine('seal'), ...standards('rfc8785')],
  'machines/offer.ts': machine('offer', 'tools', 'holds', 'department'),
  'machines/rate-for.ts': machine('rate-for'),
  'machines/case.context.ts': machine('remembered', 'tools', 'tips', 'parts'),
  'machines/screw.context.ts': machine('screw-remembered', 'metal-2', 'metal-later', 'answered'),
  'machines/across/beta.ts': [...machine('across'), ...standards('intervals')],
  'machines/across/intervals.ts': [...machine('across-sums'), ...standards('intervals')],
  'machines/across/rates.ts': machine('across-sums'),
  'machines/across/tally.ts': machine('across-sums'),
  'machines/across/report.ts': machine('across-sums'),
  'machines/across/outcome.ts': machine('across', 'across-outcome', 'trace'),
  'machines/across/aim.ts': machine('across-sums'),
  'machines/across/order.ts': machine('across-sums'),
  'machines/forecast.ts': machine('outlook'),
  'machines/view.ts': machine('shown', 'holds', 'holds-case', 'order', 'clocks'),
  'machines/fold.ts': [
    ...machine('folded', 'heard', 'remembered', 'order', 'holds', 'holds-case', 'strike'),
    ...machine('format-2', 'reassigned', 'answered'),
  ],
  'machines/transition.ts': machine('transition', 'heard'),
  'machines/trace.ts': machine('trace', 'across-outcome', 'order', 'reassigned', 'answered'),
  'machines/play.ts': machine('play', 'readiness'),
  'machines/own-rates.ts': machine('own-rates'),
  'machines/case.machine.ts': machine('heard', 'remembered', 'holds-case', 'parts', 'answered'),
  'machines/screw.machine.ts': machine('screw-charted', 'heard', 'holds', 'metal-later', 'answered'),
  'machines/case-file.ts': [...machine('case-file', 'format-2'), ...releases('loading')],
  'machines/case-line.ts': machine('case-line'),
  'machines/stopping.ts': machine('answered'),
  'machines/entry.ts': machine('entry', 'entry-2'),
  'machines/kinds.ts': machine('entry', 'entry-2'),
  'machines/fields-1.ts': machine('entry'),
  'machines/fields-2.ts': machine('entry-2'),
  'machines/ties.ts': machine('entry', 'entry-2'),
  'machines/conversions.ts': [...machine('formats', 'format-2'), ...releases('loading')],
  'machines/formats.ts': [...machine('formats', 'format-2'), ...releases('loading')],
  'machines/rules.ts': machine('rule-book'),
};

/** Files without a line that runs, or without one of our own: nothing in them can be mutated. */
export const withoutCode: readonly string[] = [
  'machines/folded.ts',
  'machines/events.ts',
  'machines/view.types.ts',
  'machines/across/jstat.d.ts',
];
