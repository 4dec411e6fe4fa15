import { userInfo } from 'node:os';

/** Who is at the keyboard, for the record of changes; empty for a user that the system has no name for. */
export function operatorName(): string {
  try {
    return userInfo().username;
  } catch {
    return '';
  }
}
