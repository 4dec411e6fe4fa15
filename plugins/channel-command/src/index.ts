export { commandChannel } from './command-channel.ts';
