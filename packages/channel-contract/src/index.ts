export { defineChannel, sendLetter } from './channel.ts';
export type { Channel, ChannelContext, SecretPlace } from './channel.ts';
