import { API_VERSIONS } from '../api-versions.ts';
import { pathToFileURL } from 'node:url';
import type { Plugin } from '@quayside/step-sdk';
import { endMark } from '../channel/end-mark.ts';
import type { MessageToGuest } from '../channel/message-to-guest.ts';
import { describePlugin, faultsOfConfig } from './describe-plugin.ts';
import { openLineToHost } from './line-to-host.ts';
import { makeRun, type RunUnderWay } from './make-run.ts';
import { pluginInModule } from './plugin-in-module.ts';
import { restOf } from './rest-of-process.ts';
import { sealOff } from './seal-off.ts';
import { textOf, troubleOf } from './trouble-of.ts';

/**
 * The process of a guest, which the host starts with the rights of its step: `guest-process.ts <entry> <grant>...`. It
 * loads the plugin once and then makes one run after the other.
 */
const [entry = '', ...grants] = process.argv.slice(2);
let underWay: RunUnderWay | null = null;
let plugin: Plugin | null = null;

// Before anything else: a socket that is opened later could not be.
const line = openLineToHost((message) => void answer(message));
const rest = restOf(process);
sealOff({ network: grants.includes('network'), childProcesses: grants.includes('child-processes') });

// Also what nobody waits for: the process is in no known state then, so it ends.
for (const event of ['uncaughtException', 'unhandledRejection']) process.on(event, (error: unknown) => giveUp(error));

try {
  plugin = await pluginInModule(pathToFileURL(entry).href);
  line.send({ type: 'ready' });
} catch (error) {
  line.sendLast({ type: 'broken', text: textOf(error), isDenied: troubleOf(error).kind === 'denied' });
}

async function answer(message: MessageToGuest): Promise<void> {
  // Nothing but an abort comes before the plugin has said that it is ready.
  if (plugin === null) return;
  if (message.type === 'abort') return underWay?.abort(message.why);
  if (message.type === 'describe') return describe(plugin, message.config);
  underWay = makeRun(plugin, message, (said) => line.send(said));
  const ending = await underWay.ended;
  underWay = null;
  const marked = [process.stdout, process.stderr].map(
    (stream) => new Promise((done) => stream.write(`\n${endMark(message.run)}\n`, done)),
  );
  await Promise.all(marked);
  line.send({ ...ending, run: message.run, isAtRest: await rest() });
}

async function describe(described: Plugin, config: unknown): Promise<void> {
  try {
    // One of another contract may look otherwise in everything else.
    const isKnown = API_VERSIONS.includes(described.apiVersion);
    line.send({
      type: 'described',
      plugin: isKnown ? describePlugin(described) : { apiVersion: described.apiVersion },
      configFaults: isKnown ? await faultsOfConfig(described, config) : [],
    });
  } catch (error) {
    line.sendLast({ type: 'broken', text: textOf(error), isDenied: false });
  }
}

function giveUp(error: unknown): void {
  const run = underWay?.run;
  if (run === undefined) line.sendLast({ type: 'broken', text: textOf(error), isDenied: false });
  else line.sendLast({ type: 'failed', run, trouble: troubleOf(error), isAtRest: false });
  // What the plugin still does must not keep the process.
  setTimeout(() => process.exit(1), 100);
}
