/** Whether labels are skipped so that they keep to the clock (drop frame), or not. */
export type Counting = 'DF' | 'NDF';

/** The key of a rate in RATES: stable, fit to be stored. */
export type RateName =
  | '23.976'
  | '24'
  | '25'
  | '29.97 NDF'
  | '29.97 DF'
  | '30'
  | '30 DF'
  | '47.952'
  | '48'
  | '50'
  | '59.94 NDF'
  | '59.94 DF'
  | '60'
  | '60 DF'
  | '100'
  | '119.88 NDF'
  | '119.88 DF'
  | '120'
  | '120 DF';

/** A rate of pictures and how its labels are counted. `numerator / denominator` is exact, in frames per second. */
export interface Rate {
  readonly name: RateName;
  readonly numerator: number;
  readonly denominator: number;
  /** Labels in one labelled second. */
  readonly base: number;
  /** Labels skipped at the start of each minute whose number is no multiple of ten; 0 when counted non-drop. */
  readonly drop: number;
  readonly labelsPerDay: number;
}

/**
 * Every rate that can be counted, by name (SMPTE ST 12-1; above 60 ST 12-3). Drop frame belongs to the rates over 1001;
 * at exactly 30, 60 and 120 it is an oddity that files carry all the same: readable, but it gains 3.6 s an hour.
 */
export const RATES: Readonly<Record<RateName, Rate>> = {
  '23.976': nonDrop('23.976', 24, 1001),
  '24': nonDrop('24', 24, 1),
  '25': nonDrop('25', 25, 1),
  '29.97 NDF': nonDrop('29.97 NDF', 30, 1001),
  '29.97 DF': dropping('29.97 DF', 30, 1001),
  '30': nonDrop('30', 30, 1),
  '30 DF': dropping('30 DF', 30, 1),
  '47.952': nonDrop('47.952', 48, 1001),
  '48': nonDrop('48', 48, 1),
  '50': nonDrop('50', 50, 1),
  '59.94 NDF': nonDrop('59.94 NDF', 60, 1001),
  '59.94 DF': dropping('59.94 DF', 60, 1001),
  '60': nonDrop('60', 60, 1),
  '60 DF': dropping('60 DF', 60, 1),
  '100': nonDrop('100', 100, 1),
  '119.88 NDF': nonDrop('119.88 NDF', 120, 1001),
  '119.88 DF': dropping('119.88 DF', 120, 1001),
  '120': nonDrop('120', 120, 1),
  '120 DF': dropping('120 DF', 120, 1),
};

function nonDrop(name: RateName, base: number, denominator: 1 | 1001): Rate {
  return {
    name,
    numerator: denominator === 1 ? base : base * 1000,
    denominator,
    base,
    drop: 0,
    labelsPerDay: base * 86_400,
  };
}

function dropping(name: RateName, base: number, denominator: 1 | 1001): Rate {
  const drop = base / 15;
  // 1440 minutes a day, 144 of them with a number that is a multiple of ten.
  return { ...nonDrop(name, base, denominator), drop, labelsPerDay: base * 86_400 - drop * (1440 - 144) };
}
