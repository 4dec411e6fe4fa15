export { isVerdictOld, placesProven, restsAway } from './answers/drive-questions.ts';
export { HealthAnswer } from './answers/health-answer.ts';
export { RollAnswer } from './answers/roll-answer.ts';
export { Scope } from './access/scope.ts';
export { listTokens, makeToken, revokeToken } from './access/token-file.ts';
export type { TokenRecord } from './access/token-file.ts';
export { VolumeAnswer } from './answers/volume-answer.ts';
