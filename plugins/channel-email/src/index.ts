export { emailChannel } from './email-channel.ts';
