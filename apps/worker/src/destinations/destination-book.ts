import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Configuration } from '@quayside/configuration';
import {
  answerInTime,
  checkDestination,
  findDestinationAway,
  prepareDestination,
  readDestinationMarker,
  writeDurably,
} from '@quayside/media-files';
import { failureOf, QuaysideError, type Failure } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { z } from 'zod';
import { refuseSource, type SourceParts } from './refuse-source.ts';

const Remembered = z.record(z.string(), z.object({ id: z.string(), path: z.string() }));

export type Configured = Configuration['destinations'][number];
export type Found =
  | { readonly destination: Destination; readonly failure: null }
  | { readonly destination: Destination; readonly failure: Failure };

/**
 * Which folder is which destination. A path is not a drive: the id in the marker at a destination's root is remembered in
 * the data folder at first use, and from then on a path without that marker is refused, so that nothing is ever written
 * into the empty folder where a drive should be mounted.
 */
export class DestinationBook {
  readonly #configured: readonly Configured[];
  readonly #file: string;
  readonly #parts: SourceParts;
  #remembered: z.output<typeof Remembered> | null = null;
  #meeting: Promise<unknown> = Promise.resolve();

  constructor(parts: SourceParts) {
    const { configuration } = parts;
    this.#parts = parts;
    this.#configured = configuration.destinations;
    this.#file = join(configuration.data, 'destinations.json');
  }

  names(): readonly string[] {
    return this.#configured.map((destination) => destination.name);
  }

  configured(name: string): Configured | null {
    return this.#configured.find((destination) => destination.name === name) ?? null;
  }

  /** Every configured destination with what speaks against writing to it now, or null. */
  async find(names: readonly string[] = this.names()): Promise<readonly Found[]> {
    const found: Found[] = [];
    for (const name of names) found.push(await this.#findOne(name, checkDestination));
    return found;
  }

  /** As `find`, without writing a trial file: what speaks against reading there. */
  async look(names: readonly string[] = this.names()): Promise<readonly Found[]> {
    const found: Found[] = [];
    for (const name of names) found.push(await this.#findOne(name, findDestinationAway));
    return found;
  }

  async #findOne(name: string, check: (destination: Destination) => Promise<Failure | null>): Promise<Found> {
    const configured = this.configured(name);
    if (configured === null) {
      return {
        destination: { name, root: '', id: '' },
        failure: {
          code: 'DESTINATION_UNKNOWN',
          sentence: `Destination ${name} is no longer in the configuration. Put it back, or retry the roll without it.`,
          retry: 'never',
        },
      };
    }
    const remembered = await this.#recall();
    const known = remembered[name];
    try {
      const place = { name, root: configured.path, isFirstUse: known === undefined };
      const onSource = await answerInTime(place, () => refuseSource(this.#parts, place));
      if (onSource !== null)
        return { destination: { name, root: configured.path, id: known?.id ?? '' }, failure: onSource };
      const id = known?.id ?? (await this.#meet(configured));
      const destination = { name, root: configured.path, id };
      return { destination, failure: await check(destination) };
    } catch (error) {
      return { destination: { name, root: configured.path, id: known?.id ?? '' }, failure: failureOf(error) };
    }
  }

  /** First uses go one after another: two at a time could make two markers, or lose one from the file. */
  #meet(configured: Configured): Promise<string> {
    const mine = this.#meeting.then(() => this.#meetNow(configured));
    this.#meeting = mine.catch(() => {});
    return mine;
  }

  /** An existing marker is taken over, else one is made. */
  async #meetNow(configured: Configured): Promise<string> {
    const known = (await this.#recall())[configured.name];
    if (known !== undefined) return known.id;
    const id = await this.#identify(configured);
    const remembered = { ...(await this.#recall()), [configured.name]: { id, path: configured.path } };
    this.#remembered = remembered;
    await writeDurably(this.#file, `${JSON.stringify(remembered, null, 2)}\n`);
    return id;
  }

  async #identify({ name, path }: Configured): Promise<string> {
    const away = await findDestinationAway({ name, root: path, id: '' });
    if (away?.code === 'DESTINATION_MISSING') throw new QuaysideError(away);
    const marker = await readDestinationMarker(path);
    if (marker !== null) return marker.id;
    try {
      return (await prepareDestination(path, name)).id;
    } catch (error) {
      const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
      const sentence = `Destination ${name} at ${path} does not take its marker file (${why}). Make that folder writable for the service, or point the destination elsewhere.`;
      throw new QuaysideError({ code: 'DESTINATION_UNWRITABLE', sentence, retry: 'destination' }, { cause: error });
    }
  }

  async #recall(): Promise<z.output<typeof Remembered>> {
    if (this.#remembered !== null) return this.#remembered;
    try {
      this.#remembered = Remembered.parse(JSON.parse(await readFile(this.#file, 'utf8')));
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && error.code === 'ENOENT')) {
        throw new QuaysideError(
          {
            code: 'DESTINATION_BOOK_DAMAGED',
            sentence: `The list of known destinations at ${this.#file} cannot be read. Check that every destination drive is connected, then remove that file.`,
            retry: 'never',
          },
          { cause: error },
        );
      }
      this.#remembered = {};
    }
    return this.#remembered;
  }
}
