/** The answers that bear a verdict, which the page checks to the letter. Nothing behind them may need Node; the test of the built page in `apps/board` fails otherwise. */
export { isVerdictOld, placesProven, restsAway } from './answers/drive-questions.ts';
export { HealthAnswer } from './answers/health-answer.ts';
export { RollAnswer } from './answers/roll-answer.ts';
export { ShootDetail } from './answers/shoot-answer.ts';
export { VolumeAnswer } from './answers/volume-answer.ts';
