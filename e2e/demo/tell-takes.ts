import { join } from 'node:path';
import type { Service } from '../service/start-service.ts';

interface Groups {
  readonly groups: readonly {
    readonly start: { readonly timecode: string };
    readonly members: readonly { readonly recorder: string }[];
    readonly editableAt: readonly string[];
  }[];
}
interface Findings {
  readonly findings: readonly {
    readonly severity: string;
    readonly why: string;
    readonly subject: { readonly kind: string };
  }[];
}

export interface Takes {
  readonly service: Service;
  readonly shootId: string;
  /** Where the records lie, one destination's root. */
  readonly root: string;
  readonly say: (line: string) => void;
}

/** Tells what ran together, what went wrong on the set, and where to look at it. Waits for the records to be whole. */
export async function tellTakes({ service, shootId, root, say }: Takes): Promise<void> {
  await service.until('the records of the class are written', async () => {
    const events = await service.events();
    const sealed = events.findLastIndex(({ type }) => type === 'roll.sealed');
    return events.findLastIndex(({ type }) => type === 'shoot.recorded') > sealed ? events : null;
  });
  const { groups } = await service.get<Groups>(`/v1/shoots/${shootId}/groups`);
  say('');
  say('What ran together:');
  for (const { start, members, editableAt } of groups) {
    const recorders = [...new Set(members.map(({ recorder }) => recorder))].join(', ');
    say(`  ${start.timecode}  ${recorders}; ${editableAt.length > 0 ? 'can be edited now' : 'not yet to be edited'}`);
  }
  const { findings } = await service.get<Findings>(`/v1/shoots/${shootId}/findings`);
  say('Found on the set (the last take was spoilt on purpose):');
  for (const { severity, why, subject } of findings)
    if (subject.kind !== 'destination') say(`  ${severity.padEnd(8)} ${why}`);
  say(`The report, with a map of the class: ${join(root, shootId, 'records', 'report.html')}`);
}
