export { webhookChannel } from './webhook-channel.ts';
