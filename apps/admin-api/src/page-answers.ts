/** The answers that the page reads. Nothing behind them may need Node; the test of the built page in `apps/board` fails otherwise. */
export { isVerdictOld, placesProven, restsAway } from './answers/drive-questions.ts';
export { EventAnswer } from './answers/event-answer.ts';
export { GroupAnswer } from './answers/group-answer.ts';
export { HealthAnswer } from './answers/health-answer.ts';
export { Problem } from './answers/problem.ts';
export { RollAnswer, RollDetail } from './answers/roll-answer.ts';
export { ShootAnswer, ShootDetail } from './answers/shoot-answer.ts';
export { ShootFinding } from './answers/shoot-finding-answer.ts';
export { VolumeAnswer } from './answers/volume-answer.ts';
