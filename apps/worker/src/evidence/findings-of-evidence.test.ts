import type { DestinationEvidence } from '@quayside/pipeline';
import { expect, it } from 'vitest';
import { findingsOfEvidence } from './findings-of-evidence.ts';

const NOW = '2026-11-25T10:00:00.000Z';
const at = (name: string, device: number | 'memory' | 'unknown'): DestinationEvidence => ({
  name,
  state: 'sealed',
  device,
  copies: new Map(),
  bad: [],
});
const findings = (...destinations: readonly DestinationEvidence[]): readonly string[] =>
  findingsOfEvidence('wheel-1', { volume: { state: 'away', why: '' }, destinations }, NOW).map(
    ({ code, subject }) => `${code} ${subject.id}`,
  );

it('tells of destinations that share a device, once', () => {
  expect(findings(at('primary', 0), at('vault', 1), at('backup', 0))).toEqual(['ONE_DEVICE backup+primary']);
});

it('tells nothing of separate devices, nor of what is not known', () => {
  expect(findings(at('primary', 0), at('backup', 1), at('a', 'unknown'), at('b', 'unknown'))).toEqual([]);
});
