import { findingsOfDeliveries, type GivenUpFinding } from '@quayside/message-journal';
import { describeChannels } from '@quayside/messages';
import type { ApiParts } from '../api-parts.ts';

/** A finding for each configured channel that has given messages up. */
export async function unheardMessages({
  deliveries,
  configuration,
}: Pick<ApiParts, 'deliveries' | 'configuration'>): Promise<readonly GivenUpFinding[]> {
  const channels = describeChannels(configuration.messages).map(({ name }) => name);
  return findingsOfDeliveries(await deliveries(), channels);
}
