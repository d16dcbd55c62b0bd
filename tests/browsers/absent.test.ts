import { afterEach, describe, expect, it, vi } from 'vitest';
import { absent } from './harness.ts';

afterEach(() => void vi.unstubAllEnvs());

describe('an engine that is not on this machine', () => {
  it.each(['true', '1'])('is a failure where CI is %s', (set) => {
    vi.stubEnv('CI', set);
    expect(() => absent('WebKit')).toThrow('WebKit is not on this machine');
  });

  it.each(['', 'false'])('is none, so that its checks are skipped, where CI is %j', (set) => {
    vi.stubEnv('CI', set);
    expect(absent('WebKit')).toBeNull();
  });
});
