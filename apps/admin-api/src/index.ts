export { EventAnswer } from './answers/event-answer.ts';
export { HealthAnswer } from './answers/health-answer.ts';
export { Problem } from './answers/problem.ts';
export { RollAnswer, RollDetail } from './answers/roll-answer.ts';
export { ShootAnswer, ShootDetail } from './answers/shoot-answer.ts';
export { VerifyAnswer, VerifyProgress } from './answers/verify-answer.ts';
export { VolumeAnswer } from './answers/volume-answer.ts';
export { GroupAnswer } from './answers/group-answer.ts';
export { ShootFinding } from './answers/shoot-finding-answer.ts';
