import type {
  Acknowledgement,
  Copy,
  Failure,
  FileEntry,
  FileFacts,
  GuestRunRecord,
  GuestRunSummary,
  GuestWait,
  PipelineEvent,
  PluginStanding,
  Roll,
  Shoot,
  ShootProgress,
  ShootStep,
  StreamedEvent,
  Volume,
  VolumeListing,
} from '@quayside/shoot';
import type { RereadWish } from '@quayside/pipeline';
import type { PlanOnRecord, PlanWord } from '@quayside/proxy-planning';
import type { GroupingResult } from '@quayside/sync-grouping';
import { z } from 'zod';
import type { KeptAnswer } from './kept-answer.ts';
import type { Rebuild } from './rebuild.ts';
import type { StepTimes } from './step-times-in-redis.ts';

/**
 * The fast view in Redis: state per shoot, volume, roll and copy, and the event stream. It may be lost at any moment;
 * nothing in it proves footage safe. Every write of a roll goes through `changeRoll`, so two processes never overwrite
 * each other's change.
 *
 * While Redis does not answer, every call fails within 5 seconds with `REDIS_UNREACHABLE`, and works again by itself when
 * Redis is back; such a write may or may not have been made. Redis that answers but will not (its disk is full) gives
 * `REDIS_REFUSED`. A stored row that does not parse is logged and counts as absent.
 */
export interface Store {
  /**
   * All rolls, sorted by id. Those that have not changed since a call of the last minute come from memory (a thousand take a
   * quarter of a second the first time, some milliseconds after), so they are the same objects again: never change them.
   */
  rolls(): Promise<readonly Roll[]>;
  /** As `rolls`, without those that were put to sleep and that nobody has changed since: of a thousand rolls the few that may want something. */
  awakeRolls(): Promise<readonly Roll[]>;
  /** What each roll's state goes by: another one as soon as it has changed. Of a thousand rolls a few milliseconds, where reading them costs memory. */
  rollVersions(): Promise<ReadonlyMap<string, string>>;
  /** What a volume has held, over all its visits. */
  rollsOfVolume(volumeKey: string): Promise<readonly Roll[]>;
  rollsOfShoot(shootId: string): Promise<readonly Roll[]>;
  roll(id: string): Promise<Roll | null>;
  /**
   * Loads a roll, applies `change` and writes the result if nobody else wrote meanwhile, else tries again with the newer
   * state: `change` may be called several times and must be pure. Returning the same object writes nothing.
   */
  changeRoll(
    id: string,
    change: (roll: Roll | null) => Roll,
  ): Promise<{ readonly before: Roll | null; readonly after: Roll }>;

  /**
   * Packs away what lies beside a roll that wants nothing for a long time, as `maySleep` says of its state now. It can be
   * read as before. Every later change of the roll wakes it, and so does what is noted beside it, an acknowledgement in its
   * shoot, and another roll that leaves its shoot. False when it stays awake.
   */
  putToSleep(rollId: string, maySleep: (roll: Roll) => boolean | Promise<boolean>): Promise<boolean>;

  /** Replaces the parcels of this visit. Those of the visit before go a day later, since its runs may still be under way. */
  saveParcels(rollId: string, visit: number, parcels: readonly (readonly FileEntry[])[]): Promise<void>;
  /** Never empty. @throws QuaysideError `PARCEL_UNKNOWN` when they are not there: the view was lost. */
  parcelFiles(rollId: string, visit: number, parcel: number): Promise<readonly FileEntry[]>;
  /** All files of the roll's visit, in the order of its parcels. @throws QuaysideError `PARCEL_UNKNOWN` when any are missing. */
  rollFiles(roll: Pick<Roll, 'id' | 'visit' | 'parcels'>): Promise<readonly FileEntry[]>;

  /** What is known of a roll's files, in the order of their paths. */
  facts(rollId: string): Promise<readonly FileFacts[]>;
  /** Adds facts; those of a path replace the earlier ones. */
  saveFacts(rollId: string, files: readonly FileFacts[]): Promise<void>;

  /** Copies of a roll's files by destination: `{ [destination]: { [path]: Copy } }`. */
  copies(rollId: string): Promise<Readonly<Record<string, Readonly<Record<string, Copy>>>>>;
  noteCopies(rollId: string, destination: string, copies: Readonly<Record<string, Copy>>): Promise<void>;

  /** Bytes moved so far in this visit; kept for progress bars only, and for 5 minutes. `at` is milliseconds since 1970. */
  progress(rollId: string): Promise<RollProgress | null>;
  /** The same of many rolls, in their order. */
  progressOf(rollIds: readonly string[]): Promise<readonly (RollProgress | null)[]>;
  noteProgress(rollId: string, progress: RollProgress): Promise<void>;

  volumes(): Promise<readonly Volume[]>;
  volume(key: string): Promise<Volume | null>;
  /** Saves what the watcher knows of a volume: all of it but `rollId`, which is left as it is. The last write counts. */
  saveVolume(volume: Volume): Promise<void>;
  /** Notes which roll a volume holds, which the worker knows, so that neither process overwrites what the other wrote. */
  noteRollOfVolume(volumeKey: string, rollId: string): Promise<void>;
  listing(volumeKey: string): Promise<VolumeListing | null>;
  saveListing(volumeKey: string, listing: VolumeListing): Promise<void>;
  assignments(): Promise<Readonly<Record<string, Assignment>>>;
  assign(volumeKey: string, assignment: Assignment): Promise<void>;

  shoots(): Promise<readonly Shoot[]>;
  shoot(id: string): Promise<Shoot | null>;
  saveShoot(shoot: Shoot): Promise<void>;
  /** Notes that a shoot was given another name: its records are due again, and its rolls are awake to be asked. */
  noteShootRenamed(shootId: string): Promise<void>;

  /** The sync groups and findings of a shoot as last worked out, or null. */
  grouping(shootId: string): Promise<GroupingResult | null>;
  saveGrouping(shootId: string, grouping: GroupingResult): Promise<void>;
  /** The plan of a shoot's proxies as last made, or null. */
  proxyPlan(shootId: string): Promise<PlanOnRecord | null>;
  saveProxyPlan(shootId: string, plan: PlanOnRecord): Promise<void>;
  /** What a person last said of the plan, or null. A view that was lost has forgotten it: then nothing is approved. */
  planWord(shootId: string): Promise<PlanWord | null>;
  savePlanWord(shootId: string, word: PlanWord): Promise<void>;
  /** Lets the plan be made anew, though nothing that it follows from has changed. */
  forgetPlanned(shootId: string): Promise<void>;
  /**
   * Notes the policy that plans are to be made with from now on, null for none. True when it was another one: then every shoot
   * may want a new plan, and all rolls are awake to be asked.
   */
  notePlanning(planning: string | null): Promise<boolean>;
  /** Notes that a proxy of the shoot was filed: its records are due again, and its rolls are awake to be asked. */
  noteProxyFiled(shootId: string): Promise<void>;
  /**
   * Notes what the plugins' runs of a shoot have given, as one text that is equal when and only when that is. When it is another
   * than before, the shoot's records are due again, and its rolls are awake to be asked.
   */
  noteGuestResults(shootId: string, results: string): Promise<void>;
  shootProgress(shootId: string): Promise<ShootProgress>;
  /** What is done has not failed any more. */
  noteShootProgress(
    shootId: string,
    done: Partial<Pick<ShootProgress, 'grouped' | 'planned' | 'recorded' | 'completed'>>,
  ): Promise<void>;
  noteShootFailure(shootId: string, step: ShootStep, failure: Failure): Promise<void>;
  /** Lets a step that failed be made again at once. False when it had not failed. */
  forgetShootFailure(shootId: string, step: ShootStep): Promise<boolean>;
  /** By the matter that they are about. */
  acknowledgements(shootId: string): Promise<Readonly<Record<string, Acknowledgement>>>;
  /** Keeps an acknowledgement, in place of an earlier one of the same matter. */
  acknowledge(shootId: string, acknowledgement: Acknowledgement): Promise<void>;

  /** The plugins of the configuration and what became of each, as the process that runs them found at its start. */
  plugins(): Promise<readonly PluginStanding[]>;
  savePlugins(plugins: readonly PluginStanding[]): Promise<void>;
  /** The built-in steps as nodes of the graph, as the worker has them. */
  builtInSteps(): Promise<readonly BuiltInNode[]>;
  saveBuiltInSteps(steps: readonly BuiltInNode[]): Promise<void>;
  /** The last run of each guest's step on each subject of a shoot, in no order. */
  guestRuns(shootId: string): Promise<readonly GuestRunSummary[]>;
  /** One of them with its output and log. */
  guestRun(id: string): Promise<GuestRunRecord | null>;
  /** How many there are: fewer than were saved when the view was lost. */
  guestRunCount(shootId: string): Promise<number>;
  /** Keeps a run in place of an earlier one of the same step and subject. */
  saveGuestRun(record: GuestRunRecord): Promise<void>;
  /** The same of many, in one exchange. */
  saveGuestRuns(records: readonly GuestRunRecord[]): Promise<void>;
  /** The guests' steps of a shoot that wait, as the process that runs them last saw it. */
  guestWaits(shootId: string): Promise<readonly GuestWait[]>;
  saveGuestWaits(shootId: string, waits: readonly GuestWait[]): Promise<void>;
  /** Asks for something to be done about a guest's run; the process that runs guests takes it within a second. */
  orderGuestRun(id: string, order: GuestOrder): Promise<void>;
  /** The orders since the last call, by the run's id; each is given once. */
  takeGuestOrders(): Promise<ReadonlyMap<string, GuestOrder>>;
  /** Drops runs whose subject is no longer of the shoot. What they left beside the footage stays. */
  forgetGuestRuns(shootId: string, ids: readonly string[]): Promise<void>;

  /**
   * Claims an idempotency key for a request, given as a digest. Null when it is now the caller's to answer; else what is
   * known of the request that came first.
   */
  claimAnswer(key: string, request: string): Promise<KeptAnswer | null>;
  keepAnswer(key: string, kept: KeptAnswer): Promise<void>;
  /** Frees a key whose request came to nothing. */
  dropAnswer(key: string): Promise<void>;

  /** What people want to be read again and is not done yet, oldest first. */
  rereadWishes(): Promise<readonly RereadWish[]>;
  /** Adds a wish, and gives the one that stands now: of an equal one that is not done yet, the first. */
  wishReread(wish: RereadWish): Promise<RereadWish>;
  dropRereadWish(wish: RereadWish): Promise<void>;

  /** Named values with a time to live, for heartbeats such as `worker` and `watcher`. */
  beat(name: string, ttlMs: number, value: string): Promise<void>;
  beats(): Promise<Readonly<Record<string, string>>>;

  /** Counts how long one try of a step took. */
  noteStepTime(step: string, outcome: StepTimes['outcome'], milliseconds: number): Promise<void>;
  /** How long steps took, by step and outcome. */
  stepTimes(): Promise<readonly StepTimes[]>;

  /** Adds the events in this order, all or none. About the last 10,000 are kept. */
  publish(events: readonly PipelineEvent[]): Promise<void>;
  /**
   * The events after `afterId` (exclusive; `'0'` for all that is kept), oldest first.
   * @throws QuaysideError `EVENT_ID_UNKNOWN` when `afterId` cannot be an event's id.
   */
  eventsAfter(afterId: string, limit: number): Promise<readonly StreamedEvent[]>;
  /**
   * Follows the stream from after `afterId` (or `'$'`: from this call on) until the signal aborts. It outlives a loss of
   * Redis and then goes on after the last event that it gave.
   */
  follow(afterId: string, signal: AbortSignal): AsyncIterable<StreamedEvent>;

  /** The remaking of the view that was last asked for, and what came of it; null when nobody has asked. */
  rebuild(): Promise<Rebuild | null>;
  saveRebuild(rebuild: Rebuild): Promise<void>;

  /**
   * True from `markWhole` until the view is lost. It also tells a loss after which somebody has already written again, say a
   * watcher that saw a volume: rebuild and mark whenever it is false.
   */
  isWhole(): Promise<boolean>;
  markWhole(): Promise<void>;
  ping(): Promise<void>;
  close(): Promise<void>;
}

export const RollProgress = z.object({
  visit: z.number(),
  copiedBytes: z.number(),
  verifiedBytes: z.number(),
  bytesPerSecond: z.number(),
  at: z.number(),
});
export type RollProgress = Readonly<z.output<typeof RollProgress>>;

/** Whose volume it is, by the operator's word, and the shoot that it goes to (null: the one that is open). */
export const Assignment = z.object({ recorder: z.string(), shootId: z.string().nullable() });
export type Assignment = Readonly<z.output<typeof Assignment>>;

/** A built-in step in the graph: what it is about, and what it comes after. */
export const BuiltInNode = z.object({
  name: z.string(),
  scope: z.enum(['clip', 'roll', 'shoot']),
  after: z.array(z.string()),
});
export type BuiltInNode = Readonly<z.output<typeof BuiltInNode>>;

/** What a person wants of a guest's run: made again, stopped, or left out until something of it changes. */
export const GuestOrder = z.enum(['retry', 'cancel', 'skip']);
export type GuestOrder = z.output<typeof GuestOrder>;
