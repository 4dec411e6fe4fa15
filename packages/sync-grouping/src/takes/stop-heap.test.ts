import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { StopHeap } from './stop-heap.ts';

describe('the queue of what runs', () => {
  it('gives what has stopped, the earliest first, and keeps the rest', () => {
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 50 })), fc.nat({ max: 50 }), (stops, time) => {
        const heap = new StopHeap<{ readonly stop: number }>();
        for (const stop of stops) heap.push({ stop });
        const stopped: number[] = [];
        for (let next = heap.popUpTo(time); next !== undefined; next = heap.popUpTo(time)) stopped.push(next.stop);
        expect(stopped).toEqual(stops.filter((stop) => stop <= time).toSorted((left, right) => left - right));
        expect(heap.entries()).toHaveLength(stops.length - stopped.length);
      }),
    );
  });
});
