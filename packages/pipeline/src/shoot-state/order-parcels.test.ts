import { expect, it } from 'vitest';
import { orderParcels } from './order-parcels.ts';

it('the newest complete group comes first, then the complete ones before it, then the incomplete, newest first', () => {
  const groups = [
    { place: 0, isComplete: true, parcels: [0] },
    { place: 1, isComplete: false, parcels: [1] },
    { place: 2, isComplete: true, parcels: [3, 2] },
    { place: 3, isComplete: false, parcels: [4] },
  ];
  expect(orderParcels(groups)).toEqual([2, 3, 0, 4, 1]);
  expect(orderParcels(groups.toReversed())).toEqual([2, 3, 0, 4, 1]);
});

it('a recording that runs through several takes is wanted with the newest of them, once', () => {
  expect(
    orderParcels([
      { place: 0, isComplete: true, parcels: [5, 0] },
      { place: 1, isComplete: true, parcels: [5, 1] },
    ]),
  ).toEqual([1, 5, 0]);
});

it('a drive that has no part in any group keeps its own order', () => {
  expect(orderParcels([{ place: 0, isComplete: true, parcels: [] }])).toEqual([]);
});
