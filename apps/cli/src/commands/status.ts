import { setTimeout as pause } from 'node:timers/promises';
import { failureOf } from '@quayside/shoot';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { say, sayJson } from '../screen/say.ts';
import { isTerminal, wantsColour } from '../screen/terminal.ts';
import { reachService } from '../service-api/reach-service.ts';
import { gatherStatus, type Status } from '../status/gather-status.ts';
import { judgeDrives } from '../status/judge-drives.ts';
import { type Look, statusLines } from '../status/status-lines.ts';

export interface StatusOptions {
  readonly config?: string;
  readonly json?: boolean;
  readonly watch?: boolean;
}

/** Shows the state of everything at a glance, once or until the signal aborts. */
export async function showStatus(options: StatusOptions, signal: AbortSignal): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const look: Look = { colour: wantsColour(), bars: isTerminal(), recorders: Object.keys(configuration.recorders) };
  if (options.watch === true) {
    await watch(async () => reachService(configuration), { look, json: options.json === true, signal });
    return EXIT.interrupted;
  }
  const status = await gatherStatus(await reachService(configuration), null);
  if (options.json === true) sayJson({ drives: judgeDrives(status), ...status });
  else say(...statusLines(status, look));
  return EXIT.ok;
}

const REFRESH_MS = 1_000;
/** Looking for rolls on hold reads every roll there is, so it is done this much less often than a refresh. */
const REFRESHES_PER_SEARCH = 10;

async function watch(
  reach: () => ReturnType<typeof reachService>,
  { look, json, signal }: { readonly look: Look; readonly json: boolean; readonly signal: AbortSignal },
): Promise<void> {
  const show = await painter(json);
  let known: Status['rolls'] | null = null;
  for (let turn = 0; !signal.aborted; turn++) {
    try {
      const status: Status = await gatherStatus(await reach(), turn % REFRESHES_PER_SEARCH === 0 ? null : known);
      known = status.rolls.filter((roll) => roll.clearance.verdict === 'hold');
      show(json ? [JSON.stringify({ drives: judgeDrives(status), ...status })] : statusLines(status, look));
    } catch (error) {
      // A screen that is watched stays, and says that nothing is known.
      known = null;
      const failure = failureOf(error);
      show([json ? JSON.stringify({ failure }) : failure.sentence]);
    }
    await pause(REFRESH_MS, undefined, { signal }).catch(() => undefined);
  }
}

/** On a terminal each picture takes the place of the last; elsewhere only lines that are new are printed. */
async function painter(json: boolean): Promise<(lines: readonly string[]) => void> {
  if (!json && isTerminal()) {
    const { default: logUpdate } = await import('log-update');
    return (lines) => logUpdate(lines.join('\n'));
  }
  let last = new Set<string>();
  return (lines) => {
    say(...lines.filter((line) => !last.has(line)));
    last = new Set(lines);
  };
}
