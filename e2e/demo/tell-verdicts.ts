import type { Service, ShownRoll } from '../service/start-service.ts';

export interface Telling {
  readonly service: Service;
  readonly recorders: readonly string[];
  readonly destinations: readonly { readonly name: string; readonly path: string }[];
  readonly say: (line: string) => void;
}

/** Tells the verdict on each drive, where its footage lies and how to look at it. 0 only when every roll is clear. */
export async function tellVerdicts({ service, recorders, destinations, say }: Telling): Promise<number> {
  const rolls = new Map((await service.rolls()).map((roll) => [roll.recorder, roll]));
  say('');
  say('May I record over this drive?');
  for (const recorder of recorders) say(`  ${recorder.padEnd(8)} ${sentenceOf(rolls.get(recorder))}`);
  const [first] = rolls.values();
  say('');
  say('The footage lies, the same at each, at:');
  for (const { path } of destinations) say(`  ${path}/${first?.shootId ?? '<shoot>'}/<recorder>/<roll>/`);
  say('Look at it:');
  say(`  ls -R ${destinations[0]?.path}`);
  say(`  npm run quayside -- verify ${destinations[0]?.path}/${first?.shootId}/${first?.recorder}/${first?.id}`);
  say('');
  say('Caution: both destinations of this demo lie on one disk. Real footage wants two separate devices.');
  say('Never format a drive that is on HOLD. Quayside advises; you decide.');
  const isAllClear = recorders.every((recorder) => rolls.get(recorder)?.clearance.verdict === 'clear');
  return isAllClear ? 0 : 1;
}

function sentenceOf(roll: ShownRoll | undefined): string {
  if (roll === undefined) return 'HOLD   no roll was made of its drive';
  if (roll.clearance.verdict === 'hold')
    return `HOLD   ${roll.clearance.reasons.map(({ sentence }) => sentence).join(' ')}`;
  const mib = (roll.sizeInBytes / 2 ** 20).toFixed(1);
  return `CLEAR  yes: ${roll.fileCount} files, ${mib} MiB, each proven at both destinations (${roll.id})`;
}
