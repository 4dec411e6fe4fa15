import type { Configuration } from '@quayside/configuration';
import type { TokenBook } from './access/token-book.ts';
import type { AuditLog } from './audit/audit-log.ts';
import type { RunQueue, Store } from '@quayside/job-queue';
import type { Delivery } from '@quayside/message-journal';
import type { Instant } from '@quayside/shoot';

/** What the API is composed of. Time comes in, so that an answer can be checked to the letter. */
export interface ApiParts {
  readonly store: Store;
  readonly queue: RunQueue;
  readonly configuration: Configuration;
  readonly tokens: TokenBook;
  readonly audit: AuditLog;
  /** What was told to whom, the oldest first. */
  readonly deliveries: () => Promise<readonly Delivery[]>;
  /** What is unsafe about the Redis in use, a sentence each. */
  readonly cautions: readonly string[];
  readonly now: () => Instant;
  /** How long an answer may wait for Redis before it is 503, in milliseconds. */
  readonly answerWithinMs: number;
  /** The folder of the status page's files; without it there is no page. */
  readonly page?: string | undefined;
}
