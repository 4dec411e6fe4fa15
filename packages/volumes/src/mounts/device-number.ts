import { deviceNumber as numberOn } from '@quayside/shoot';

/** A `st_dev` or `st_rdev` of this machine as `major:minor`, the form in which `Mount.device` has it. */
export function deviceNumber(dev: number | bigint): string {
  return numberOn(dev, process.platform);
}
