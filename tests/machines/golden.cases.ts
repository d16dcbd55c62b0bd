/** Three invented cases, whose state is kept byte for byte: an easy plate, a hard tibia plate, a nail with a broken bolt. */
import { sealAll } from '../../machines/seal.ts';
import type { CaseFile } from '../../machines/case-file.ts';
import { Log } from './build.ts';

const fileOf = (log: Log, isSealed: boolean): CaseFile => {
  const entries = isSealed ? sealAll(log.entries) : log.entries;
  const last = entries.at(-1);
  const head = isSealed && last?.seal !== undefined ? { head: { n: last.n, seal: last.seal } } : {};
  return { format: 'counterturn-case', formatVersion: 1, contentVersion: '2026.1', entries: [...entries], ...head };
};

/** Two plain screws out of a fibula plate; no seals, as written by hand. */
function easyPlate(): CaseFile {
  const small = { diameter: 3.5, driveSize: 2.5, cortices: 2 as const };
  const log = new Log('2026-05-12T07:30:00Z')
    .opened({
      label: 'Room 1, second case',
      bone: 'fibula',
      side: 'right',
      placedBy: 'same-team',
      placedMonthsAgo: 9,
      theatreMinutes: 45,
    })
    .screw('a', { ...small, length: 14 })
    .screw('b', { ...small, length: 16 })
    .tool('driver-hexagonal', { size: 2.5 })
    .room('pick', 'mallet', 'metal-foil', 'locking-pliers')
    .start()
    .call('a')
    .tries('a', 'turn-out', 'out', { recovered: 14 })
    .call('b')
    .tries('b', 'turn-out', 'moving')
    .tries('b', 'turn-out', 'out')
    .write({ type: 'plate-off' })
    .write({ type: 'work-ended' })
    .write({ type: 'count-answered', by: ['scrub', 'circulating'] })
    .write({ type: 'case-closed' });
  return fileOf(log, false);
}

/** Locking tibia plate over midnight: two slips, head drilled off, gouge, bone hold passed, a piece left in. */
function hardPlate(): CaseFile {
  const locking = { diameter: 5, locking: true, drive: 'hexalobular', driveSize: 25, material: 'titanium' } as const;
  const log = new Log('2026-10-24T20:25:00Z')
    .opened({
      label: 'Room 3, late case',
      side: 'left',
      placedBy: 'other-team',
      placedMonthsAgo: 31,
      theatreMinutes: 90,
      urgency: 'planned',
    })
    .write({ type: 'person-listed', role: 'surgeon', who: 'the surgeon' })
    .write({ type: 'person-listed', role: 'circulating', who: 'the circulating nurse' })
    .bone(24.5, 4.5)
    .screw('1', { ...locking, length: 40 })
    .screw('2', { ...locking, length: 44 })
    .bone(22, 4, { screw: '2', source: 'assumed' })
    .screw('3', { diameter: 4.5, length: null, driveSize: 3.5 })
    .tool('driver-hexalobular', { size: 25 })
    .tool('driver-hexagonal', { size: 3.5 })
    .tool('hard-metal-drill', { fits: [5] })
    .tool('hollow-reamer', { inner: 5.5, outer: 7.5 })
    .tool('hollow-reamer', { inner: 7 })
    .room(
      'gouge',
      'locking-pliers',
      'reversing-drive',
      'irrigation',
      'metal-cutting-burr',
      'mallet',
      'image-intensifier',
      'punch',
    )
    .write({ type: 'consent-point', point: 'may-stay', confirmed: true })
    .write({ type: 'limits-set', boneConsider: 0.2, boneStop: 0.32, tourniquetMinutes: 100 })
    .start({ at: '2026-10-24T22:50:00+02:00' })
    .write({ type: 'antibiotic', drug: 'cefazolin', dose: '2 g', at: '2026-10-24T22:51:00+02:00' })
    .write({ type: 'tourniquet', to: 'up', pressure: 280, at: '2026-10-24T23:00:00+02:00' })
    .call('1')
    .begins('1', 'turn-out', { tool: 'driver-hexalobular', calledBy: 'surgeon', loggedBy: 'circulating' })
    .ends('1', 'slipped')
    .looksAgain('1', { recessCleared: true, fullySeated: true, inLine: false, freshDriver: true })
    .tries('1', 'reseat-driver', 'slipped');
  const wrong = log.tries('3', 'turn-out', 'slipped').n;
  log
    .strikes(wrong)
    .ends('3', 'out')
    .answers('second-surgeon', { screw: '1', answer: 'called', reason: 'colleague on the way', onWordOf: 'surgeon' })
    .begins('1', 'pack-recess')
    .looksAgain('1')
    .tries('1', 'drill-head-off', 'head-sheared')
    .tries('2', 'turn-out', 'no-change')
    .looksAgain('2', { freshDriver: true })
    .begins('2', 'turn-out')
    .ends('2', 'shank-broke', { reachable: false, recovered: 21 })
    .write({ type: 'plate-off' })
    .write({ type: 'images', shots: 3, dose: 0.21, doseUnit: 'Gy cm2' })
    .tries('1', 'gouge-and-grip', 'no-change', { bores: [{ wall: 'near', diameter: 9, length: 14 }] })
    .answers('bone-consider', { screw: '1', reason: 'bone will be protected after', onWordOf: 'surgeon' })
    .begins('1', 'hollow-ream', { tool: 'hollow-reamer', reverseConfirmed: true })
    .ends('1', 'out', { recovered: 33 })
    .write({ type: 'clock-jumped', seconds: 42 })
    .write({ type: 'tourniquet', to: 'down', at: '2026-10-25T00:35:30+02:00' })
    .finds('2', { tipProud: false, corridor: false, fragmentLength: 23, nearSurface: 4 })
    .begins('2', 'burr-out')
    .ends('2', 'tool-broke', { bores: [{ wall: 'near', diameter: 7 }] })
    .write({
      type: 'tool-damaged',
      tool: 'metal-cutting-burr',
      how: 'head of the burr broke off',
      tipMissing: true,
      length: 6,
      kept: true,
    })
    .write({ type: 'piece-recovered', tool: 'metal-cutting-burr', length: 5.5 })
    .leaves('2', {
      length: 23,
      where: 'far cortex, third hole from below',
      reason: 'more bone lost than gained',
      imageTaken: true,
      decidedBy: 'surgeon',
      toldTo: 'anaesthetist',
    })
    .write({ type: 'blood-loss', ml: 150, at: '2026-10-25T00:40:00+02:00', logged: '2026-10-25T01:10:00+02:00' })
    .write({ type: 'work-ended', at: '2026-10-25T02:20:00+02:00' })
    .write({ type: 'washed-out' })
    .write({
      type: 'count-answered',
      by: ['scrub', 'circulating'],
      discrepancy: 'head of screw 1 turned to shavings',
      imageTaken: true,
    })
    .write({ type: 'note-field', field: 'closure', text: 'in layers, dressing, splint' })
    .write({ type: 'note-field', field: 'drains', notApplicable: true })
    .write({ type: 'case-closed', at: '2026-10-25T02:05:00+01:00' })
    .write({
      type: 'patient-told',
      state: 'to-be-told',
      by: 'the surgeon',
      points: ['material', 'size', 'place', 'risks', 'mri'],
    })
    .write({ type: 'signed', who: 'the surgeon', role: 'surgeon', meaning: 'written and read' })
    .write({ type: 'remark', text: 'Piece seen on the film of the next morning', kind: 'addendum' });
  return fileOf(log, true);
}

/** Locking bolt of a femoral nail, broken from the start, punched through the far side. */
function nailBolt(): CaseFile {
  const log = new Log('2026-07-02T11:05:00Z')
    .opened({ label: 'Room 2', bone: 'Femur', construct: 'nail', side: 'right', placedBy: 'unknown', zone: 'UTC' })
    .screw('distal', { diameter: 5, length: 50, stage: 'fragment-retained' })
    .screw('proximal', { diameter: 5, length: 65, driveSize: 3.5 })
    .room('driver-hexagonal', 'punch', 'image-intensifier', 'head-gripper', 'hollow-reamer', 'reversing-drive')
    .start()
    .tries('proximal', 'turn-out', 'out', { recovered: 65 })
    .write({ type: 'piece-recovered', screw: 'distal', length: 22 })
    .finds('distal', { corridor: true, tipProud: true })
    .tries('distal', 'far-side', 'no-change')
    .begins('distal', 'push-through')
    .after(6)
    .remarks('Image: tip at the far cortex');
  return fileOf(log, true);
}

export const cases: Readonly<Record<string, () => CaseFile>> = {
  'easy-plate': easyPlate,
  'hard-plate': hardPlate,
  'nail-bolt': nailBolt,
};
