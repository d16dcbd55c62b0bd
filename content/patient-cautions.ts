/**
 * Usual cautions on the page for the patient: what stands there without being said by an entry of the log. Each rests on
 * a source of the release or on common practice; the page itself cites nothing. Their words: `src/record/locales`.
 */
export const patientCautions = [
  /** What metal that stays can do, and that the team says how likely it is. */
  { id: 'may-harm', section: 'means', source: 'told-points-fda-2008' },
  { id: 'next-operation', section: 'means', source: 'common practice, no source' },
  { id: 'tell-staff', section: 'scan', source: 'fragments-medsun-2008' },
  /** The magnet may move it, the waves may heat it: nobody has looked at this metal. */
  { id: 'untested', section: 'scan', source: 'fragments-mri-fda-2008' },
  { id: 'call-when', section: 'call', source: 'common practice, no source' },
] as const;

export type PatientCaution = (typeof patientCautions)[number]['id'];
