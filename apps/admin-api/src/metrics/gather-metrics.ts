import type { StepTimes } from '@quayside/job-queue';
import type { Delivery } from '@quayside/message-journal';
import { takingDestinations } from '@quayside/pipeline';
import { VERSION, type Roll } from '@quayside/shoot';
import { Gauge, Registry } from 'prom-client';
import { addStepTimes } from './step-times.ts';

/** What the numbers are made of, as it stands at one moment. */
export interface Measured {
  readonly rolls: readonly Roll[];
  readonly queue: { readonly waiting: number; readonly active: number; readonly delayed: number };
  /** The names of the processes that show that they live. */
  readonly alive: ReadonlySet<string>;
  /** Bytes a second that are moved now, over all rolls. */
  readonly bytesPerSecond: number;
  readonly deliveries: readonly Delivery[];
  readonly stepTimes: readonly StepTimes[];
  readonly nowMs: number;
}

/**
 * The numbers of the service in Prometheus' text format 0.0.4, made anew from what is known at each look: no process counts for
 * itself, so none forgets when it ends. All are gauges but the times of steps, which Redis counts. Names after that project's rules: base units, units as suffix, and labels with
 * few values only.
 */
export async function gatherMetrics(measured: Measured): Promise<{ readonly type: string; readonly text: string }> {
  const registry = new Registry();
  for (const { name, help, values } of numbersOf(measured)) {
    const labelNames = [...new Set(values.flatMap(({ labels }) => Object.keys(labels)))];
    const gauge = new Gauge({ name: `quayside_${name}`, help, labelNames, registers: [registry] });
    for (const { labels, value } of values) gauge.set(labels, value);
  }
  addStepTimes(registry, measured.stepTimes);
  return { type: registry.contentType, text: await registry.metrics() };
}

interface Numbers {
  readonly name: string;
  readonly help: string;
  readonly values: readonly { readonly labels: Record<string, string>; readonly value: number }[];
}

function numbersOf({ rolls, queue, alive, bytesPerSecond, deliveries, nowMs }: Measured): readonly Numbers[] {
  const unproven = rolls.filter((roll) => unprovenBytes(roll) > 0);
  const oldestMs = Math.min(nowMs, ...unproven.map(({ openedAt }) => Date.parse(openedAt)));
  return [
    { name: 'build_info', help: 'The version that runs.', values: [{ labels: { version: VERSION }, value: 1 }] },
    {
      name: 'process_alive',
      help: 'Whether a process of the service has shown lately that it lives: 1, else 0.',
      values: ['watcher', 'worker'].map((process) => ({ labels: { process }, value: alive.has(process) ? 1 : 0 })),
    },
    {
      name: 'rolls',
      help: 'Rolls that are known, by their verdict.',
      values: ['clear', 'hold'].map((verdict) => ({
        labels: { verdict },
        value: rolls.filter(({ clearance }) => clearance.verdict === verdict).length,
      })),
    },
    single(
      'unverified_bytes',
      'Bytes of copies that are still to be made or proven.',
      sum(unproven.map(unprovenBytes)),
    ),
    single(
      'oldest_unverified_age_seconds',
      'How long ago the oldest roll was opened of which a copy is still to be made or proven; 0 when there is none.',
      unproven.length === 0 ? 0 : (nowMs - oldestMs) / 1000,
    ),
    single(
      'throughput_bytes_per_second',
      'Bytes that are read and written for copies and their proof now.',
      bytesPerSecond,
    ),
    {
      name: 'queue_runs',
      help: 'Runs of steps in the queue, by their state.',
      values: Object.entries(queue).map(([state, value]) => ({ labels: { state }, value })),
    },
    {
      name: 'deliveries',
      help: 'Messages to people that are on record, by channel and state.',
      values: [...Map.groupBy(deliveries, ({ channel, state }) => `${channel} ${state}`).values()].map((group) => ({
        labels: { channel: group[0]?.channel ?? '', state: group[0]?.state ?? '' },
        value: group.length,
      })),
    },
    {
      name: 'delivery_failed_tries',
      help: 'Tries of the messages on record that failed, by channel.',
      values: [...Map.groupBy(deliveries, ({ channel }) => channel)].map(([channel, group]) => ({
        labels: { channel },
        value: sum(group.map(({ tries, state }) => tries - (state === 'sent' ? 1 : 0))),
      })),
    },
  ];
}

function single(name: string, help: string, value: number): Numbers {
  return { name, help, values: [{ labels: {}, value }] };
}

function unprovenBytes(roll: Roll): number {
  const taking = takingDestinations(roll);
  return sum(
    roll.parcels.map(
      ({ copies, sizeInBytes }) => taking.filter((name) => copies[name]?.state !== 'verified').length * sizeInBytes,
    ),
  );
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, one) => total + one, 0);
}
