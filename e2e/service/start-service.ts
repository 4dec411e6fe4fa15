import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import type { Roll, StreamedEvent } from '@quayside/shoot';
import { stringify } from 'yaml';
import { processesBelow, type ServiceProcess } from './service-processes.ts';

const CLI = fileURLToPath(new URL('../../apps/cli/bin/quayside.mjs', import.meta.url));

/** In which all that is waited for has happened, unless it hangs. */
const WITHIN_MS = 120_000;

/** A roll as the API shows it: the parts that the tests look at. */
export interface ShownRoll {
  readonly id: string;
  readonly recorder: string;
  readonly shootId: string;
  readonly activity: string;
  readonly clearance: Roll['clearance'];
  readonly drivePresent: boolean;
  readonly progress: { readonly fraction: number };
  readonly fileCount: number;
  readonly sizeInBytes: number;
}

export interface ServiceOptions {
  /** The folder for data, configuration and log; it must exist. */
  readonly folder: string;
  /** What stands in the configuration beside `data` and the port. */
  readonly configuration: Readonly<Record<string, unknown>>;
}

/** The real service, started by its own command as an operator would. */
export class Service {
  readonly port: number;
  readonly configFile: string;
  readonly log: string[] = [];
  #process: ChildProcess | null = null;
  #orphans: readonly ServiceProcess[] = [];
  #token: string | null = null;
  readonly #folder: string;

  private constructor(folder: string, port: number) {
    this.#folder = folder;
    this.port = port;
    this.configFile = join(folder, 'quayside.yaml');
  }

  static async start(options: ServiceOptions): Promise<Service> {
    const service = new Service(options.folder, await freePort());
    await mkdir(service.data, { recursive: true });
    await writeFile(
      service.configFile,
      stringify({ data: service.data, api: { port: service.port }, ...options.configuration }),
    );
    try {
      await service.run();
    } catch (error) {
      // Left running, it would slow down every test after this one.
      await service.kill();
      throw error;
    }
    return service;
  }

  get data(): string {
    return join(this.#folder, 'data');
  }

  get pid(): number {
    return this.#process?.pid ?? 0;
  }

  /** Starts the process (again) and waits until the API answers that all is ready. */
  async run(): Promise<void> {
    const child = spawn(process.execPath, [CLI, 'start', '--config', this.configFile], {
      stdio: ['ignore', 'pipe', 'pipe'],
      detached: true,
    });
    this.#process = child;
    for (const stream of [child.stdout, child.stderr])
      createInterface({ input: stream }).on('line', (line) => this.log.push(line));
    await this.until('the service is ready', async () => {
      if (child.exitCode !== null)
        throw new Error(`The service ended with ${child.exitCode}:\n${this.log.slice(-20).join('\n')}`);
      const health = await this.get<{ ok: boolean }>('/v1/health').catch(() => null);
      return health?.ok === true ? health : null;
    });
  }

  async get<Answer>(path: string): Promise<Answer> {
    return this.#ask<Answer>(path, { method: 'GET' });
  }

  async post<Answer>(path: string, body: unknown = {}): Promise<Answer> {
    return this.#ask<Answer>(path, {
      method: 'POST',
      body: JSON.stringify(body),
    });
  }

  async rolls(): Promise<readonly ShownRoll[]> {
    return (await this.get<{ rolls: readonly ShownRoll[] }>('/v1/rolls?limit=200')).rolls;
  }

  async events(): Promise<readonly StreamedEvent[]> {
    return (await this.get<{ events: readonly StreamedEvent[] }>('/v1/events/list?limit=1000')).events;
  }

  /** Waits until `count` rolls have a verdict that is not on its way any more, and gives them by recorder. */
  async verdicts(count: number, withinMs = WITHIN_MS): Promise<ReadonlyMap<string, ShownRoll>> {
    return this.until(
      `${count} rolls have their verdict`,
      async () => {
        const rolls = await this.rolls();
        const isDone = rolls.length >= count && rolls.every((roll) => roll.activity === 'resting');
        return isDone ? new Map(rolls.map((roll) => [roll.recorder, roll])) : null;
      },
      withinMs,
    );
  }

  /**
   * Asks again every 50 ms until the answer is not null. When that takes longer than something that hangs may, it throws with
   * the last lines of the log; a busy machine is slow, and no fault.
   */
  async until<Answer>(what: string, ask: () => Promise<Answer | null>, withinMs = WITHIN_MS): Promise<Answer> {
    const deadline = performance.now() + withinMs;
    while (performance.now() < deadline) {
      const answer = await ask();
      if (answer !== null) return answer;
      await wait(50);
    }
    throw new Error(
      `Waited ${withinMs} ms in vain until ${what}. The log ends with:\n${this.log.slice(-25).join('\n')}`,
    );
  }

  async stop(): Promise<void> {
    const child = this.#process;
    this.#process = null;
    await this.#killOrphans();
    if (child === null || child.exitCode !== null || child.signalCode !== null || child.pid === undefined) return;
    const gone = once(child, 'exit');
    child.kill('SIGTERM');
    await gone;
  }

  /** As a power cut would: every process of the service, Redis included, at once and without warning. */
  async kill(): Promise<void> {
    const child = this.#process;
    await this.#killOrphans();
    if (child === null || child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'exit');
    // The supervisor first, so that it starts nothing again.
    for (const { pid } of await processesBelow(child.pid)) killNow(pid);
    await gone;
    this.#process = null;
  }

  /** Only the process that watches over the others; what it started sees that it is gone and ends. */
  async killSupervisor(): Promise<void> {
    const child = this.#process;
    if (child?.pid === undefined || child.exitCode !== null) return;
    this.#orphans = (await this.processes()).filter(({ name }) => name !== 'supervisor');
    const gone = once(child, 'exit');
    killNow(child.pid);
    await gone;
    this.#process = null;
  }

  /** What a supervisor that was killed left behind, Redis above all, and no new one has replaced. */
  async #killOrphans(): Promise<void> {
    for (const { pid, name } of this.#orphans) {
      const isStillThat = (await processesBelow(pid))[0]?.name === name;
      if (isStillThat) killNow(pid);
    }
    this.#orphans = [];
  }

  /** The processes that run now. */
  async processes(): Promise<readonly ServiceProcess[]> {
    return this.pid === 0 ? [] : processesBelow(this.pid);
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.stop();
  }

  async #ask<Answer>(path: string, init: RequestInit): Promise<Answer> {
    this.#token ??= (await readFile(join(this.data, 'token'), 'utf8')).trim();
    const answer = await fetch(`http://127.0.0.1:${this.port}${path}`, {
      ...init,
      headers: {
        ...(init.body === undefined ? {} : { 'content-type': 'application/json' }),
        authorization: `Bearer ${this.#token}`,
      },
    });
    const body: unknown = await answer.json();
    if (!answer.ok) throw new Error(`${init.method} ${path} answered ${answer.status}: ${JSON.stringify(body)}`);
    // What the API promises is checked by its own tests.
    return body as Answer;
  }
}

function killNow(pid: number): void {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // It has ended meanwhile.
  }
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  return typeof address === 'object' && address !== null ? address.port : 0;
}
