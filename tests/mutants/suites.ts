/**
 * Which tests are to hold which file of `machines/`: those that speak of what it does. A mutant that they miss counts as
 * survived, even when some other test of the project would see it.
 */
const machine = (...names: string[]) => names.map((name) => `tests/machines/${name}.test.ts`);
const compute = (...names: string[]) => names.map((name) => `tests/compute/${name}.test.ts`);
const standards = (...names: string[]) => names.map((name) => `tests/standards/${name}.test.ts`);
const releases = (...names: string[]) => names.map((name) => `tests/releases/${name}.test.ts`);

export const suites: Readonly<Record<string, readonly string[]>> = {
  'machines/compute/metal.ts': machine('metal', 'tolerance'),
  'machines/compute/metal-1.ts': machine('metal-1', 'tips'),
  'machines/compute/tip-pieces.ts': machine('tips', 'metal'),
  'machines/account.ts': machine('metal', 'metal-1'),
  'machines/late.ts': machine('late', 'clocks'),
  'machines/past.ts': machine('past', 'late'),
  'machines/cuff.ts': machine('cuff', 'late', 'clocks'),
  'machines/hindsight.ts': machine('hindsight', 'late', 'strike'),
  'machines/dispatch.ts': machine('order', 'strike', 'stages', 'holds', 'holds-case', 'transition', 'metal'),
  'machines/standing.ts': machine('holds', 'holds-case', 'order', 'folded'),
  'machines/compute/ring.ts': [...compute('ring', 'ring-grid'), ...standards('bone')],
  'machines/compute/torsion.ts': [...compute('torsion'), ...standards('bone')],
  'machines/compute/bone-cost.ts': compute('bone-cost'),
  'machines/compute/fit.ts': [...compute('fit'), ...machine('tools')],
  'machines/compute/fragment.ts': compute('fragment'),
  'machines/compute/absorb.ts': compute('absorb'),
  'machines/compute/through.ts': compute('through', 'absorb'),
  'machines/readiness.ts': machine('readiness'),
  'machines/strike.ts': machine('strike', 'order'),
  'machines/time.ts': [...machine('time'), ...standards('rfc3339')],
  'machines/clocks.ts': machine('clocks'),
  'machines/guards.ts': machine('holds', 'holds-case'),
  'machines/seal.ts': [...machine('seal'), ...standards('rfc8785')],
  'machines/offer.ts': machine('offer', 'tools', 'holds', 'department'),
  'machines/rate-for.ts': machine('rate-for'),
  'machines/case.context.ts': machine('remembered', 'tools', 'tips'),
  'machines/screw.context.ts': machine('screw-remembered'),
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
  'machines/fold.ts': machine('folded', 'heard', 'remembered', 'order', 'holds', 'holds-case', 'strike'),
  'machines/transition.ts': machine('transition', 'heard'),
  'machines/trace.ts': machine('trace', 'across-outcome', 'order'),
  'machines/play.ts': machine('play', 'readiness'),
  'machines/own-rates.ts': machine('own-rates'),
  'machines/case.machine.ts': machine('heard', 'remembered', 'holds-case'),
  'machines/screw.machine.ts': machine('screw-charted', 'heard', 'holds'),
  'machines/case-file.ts': [...machine('case-file'), ...releases('loading')],
  'machines/case-line.ts': machine('case-line'),
  'machines/entry.ts': machine('entry'),
  'machines/formats.ts': [...machine('formats'), ...releases('loading')],
  'machines/rules.ts': machine('rule-book'),
};

/** Files without a line that runs, or without one of our own: nothing in them can be mutated. */
export const withoutCode: readonly string[] = [
  'machines/folded.ts',
  'machines/events.ts',
  'machines/view.types.ts',
  'machines/across/jstat.d.ts',
];
