import { definePlugin } from '@quayside/step-sdk/built-in';
import { notification } from './notification.ts';

/** Tells people what matters. */
export const notificationPlugin = definePlugin({ name: 'notification', version: '1', steps: [notification] });
