export { unguardFormula } from './csv/guard-formula.ts';
export { ProxyPlanJson } from './data/proxy-plan-json.ts';
export { RecordedClip, RecordsJson } from './data/records-json.ts';
export { GROUP_TIMELINES, groupTimelineName, PROXY_PLAN, RECORD_NAMES, recordNames } from './record-names.ts';
export { renderShootRecords } from './render-shoot-records.ts';
export {
  Acknowledgement,
  EditState,
  MissingPart,
  PicturedClip,
  PicturedFile,
  PicturedFinding,
  PicturedGroup,
  PicturedRun,
  PlaceInShoot,
  ShootPicture,
} from './shoot-picture.ts';
