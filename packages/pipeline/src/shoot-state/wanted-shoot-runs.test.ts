import { describe, expect, it } from 'vitest';
import type { Roll, ShootProgress } from '@quayside/shoot';
import { after, listedRoll, openRoll, sealed } from '../roll-state/roll.test-support.ts';
import { factsState, planState, recordsState } from './shoot-states.ts';
import { NO_PROGRESS, wantedShootRuns } from './wanted-shoot-runs.ts';

const roll = (id: string, facts: 'due' | 'partly' | 'read' = 'read'): Roll => openRoll({ ...listedRoll(1), id, facts });
const steps = (rolls: readonly Roll[], progress: ShootProgress): readonly string[] =>
  wantedShootRuns('2026-11-25', rolls, progress).map(({ step }) => step);
const grouped = (rolls: readonly Roll[]): ShootProgress => ({ ...NO_PROGRESS, grouped: factsState(rolls) });

describe('a shoot wants', () => {
  it('nothing while nothing is known of its clips', () => {
    expect(steps([roll('wheel-1', 'due')], NO_PROGRESS)).toEqual([]);
  });

  it('its groups as soon as the facts of one roll are known, and again with each roll that comes', () => {
    const rolls = [roll('wheel-1'), roll('hands-1', 'due')];
    expect(steps(rolls, NO_PROGRESS)).toEqual(['sync-grouping']);
    expect(steps(rolls, grouped(rolls))).toEqual([]);
    expect(steps([roll('wheel-1'), roll('hands-1')], grouped(rolls))).toEqual(['sync-grouping']);
  });

  it('its records once something is sealed, and again when more is', () => {
    const one = after(roll('wheel-1'), sealed('primary'));
    expect(steps([one], grouped([one]))).toEqual(['records']);
    const written = { ...grouped([one]), recorded: recordsState([one], grouped([one])) };
    expect(steps([one], written)).toEqual([]);
    expect(steps([after(one, sealed('backup'))], written)).toEqual(['records']);
  });

  it('its records again when a finding is acknowledged', () => {
    const one = after(roll('wheel-1'), sealed('primary'));
    const written = { ...grouped([one]), recorded: recordsState([one], grouped([one])) };
    expect(steps([one], { ...written, acknowledgements: 1 })).toEqual(['records']);
  });

  it('its groups while a roll waits to know what is copied first, also when they are worked out already', () => {
    const waiting = { ...roll('wheel-1'), facts: 'placing' as const };
    expect(steps([waiting], grouped([waiting]))).toEqual(['sync-grouping']);
    expect(steps([roll('wheel-1')], grouped([waiting]))).toEqual([]);
  });

  it('its plan of proxies once it is grouped, and again when groups or policy changed, beside its records', () => {
    const rolls = [roll('wheel-1')];
    const due = { ...grouped(rolls), planning: 'policy' };
    expect(steps(rolls, { ...NO_PROGRESS, planning: 'policy' })).toEqual(['sync-grouping']);
    expect(steps(rolls, due)).toEqual(['proxy-planning']);
    const planned = { ...due, planned: planState(due) };
    expect(steps(rolls, planned)).toEqual([]);
    expect(steps(rolls, { ...planned, planning: 'other policy' })).toEqual(['proxy-planning']);
    expect(steps(rolls, { ...planned, planning: null })).toEqual([]);
    const sealedRolls = [after(roll('wheel-1'), sealed('primary'))];
    expect(steps(sealedRolls, due)).toEqual(['proxy-planning', 'records']);
    expect(steps(sealedRolls, { ...planned, recorded: recordsState(sealedRolls, due) })).toEqual(['records']);
  });

  it('the same whatever order its rolls are given in', () => {
    const rolls = [roll('wheel-1'), roll('hands-1')];
    expect(steps(rolls.toReversed(), grouped(rolls))).toEqual([]);
  });
});
