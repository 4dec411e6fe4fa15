export { makeBroadcastWave } from './make-broadcast-wave.ts';
export { makeClip } from './make-clip.ts';
export { makePotteryClass } from './make-pottery-class.ts';
