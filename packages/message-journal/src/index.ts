export { Delivery } from './delivery.ts';
export { findingsOfDeliveries, type GivenUpFinding } from './findings-of-deliveries.ts';
export { openJournal } from './open-journal.ts';
export type { MessageJournal } from './open-journal.ts';
export { deliveryReader } from './read-deliveries.ts';
