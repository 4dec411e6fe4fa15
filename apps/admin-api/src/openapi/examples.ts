/** A request as the document shows it, by the values that it takes. */
export interface RequestExample {
  readonly parameters?: Readonly<Record<string, string | number>>;
  readonly body?: unknown;
}

const SHOOT = { id: 'kiln-day' };
const ROLL = { id: 'wheel-20260301-1a2b3c' };
const PLANNED = 'wheel-20260301-1a2b3c/CLIPS/wheel-1.mov';
const SINCE = { since: '2026-03-01T09:00:00.000Z' };

/**
 * One request for each operation, by its operationId, about a pottery class. Tests run every one as it stands here.
 */
export const EXAMPLES: Readonly<Record<string, RequestExample>> = {
  acknowledgeFinding: {
    parameters: { ...SHOOT, finding: 'a75616737e092d6f' },
    body: { by: 'ada', note: 'Seen; the recorder is set right.' },
  },
  approveProxyPlan: { parameters: SHOOT, body: { plannedAt: '2026-03-01T10:00:00.000Z', note: 'Go.' } },
  assignVolume: { parameters: { key: 'exfat-1a2b-3c4d' }, body: { recorder: 'wheel', shoot: 'kiln-day' } },
  cancelProxies: { parameters: SHOOT, body: { clips: [PLANNED] } },
  cancelRun: { parameters: { id: '00000000000000a3' } },
  closeShoot: { parameters: { id: 'throwing-day' } },
  getCode: { parameters: { code: 'ONE_DEVICE' } },
  getConfiguration: {},
  getDestinationVerify: { parameters: { id: 'primary', ...SINCE } },
  getHealth: {},
  getLiveness: {},
  getMetrics: {},
  getProblemKind: { parameters: { code: 'roll-unknown' } },
  getProxyPlan: { parameters: { ...SHOOT, state: 'planned', limit: 50 } },
  getReadiness: {},
  getRebuild: {},
  getRecord: { parameters: { ...SHOOT, name: 'report.html' } },
  getRecordInFolder: { parameters: { ...SHOOT, folder: 'sync-groups', name: 'take-1.otio' } },
  getRoll: { parameters: ROLL },
  getRun: { parameters: { id: '00000000000000a1' } },
  getShoot: { parameters: SHOOT },
  getShootFinding: { parameters: { ...SHOOT, finding: 'a75616737e092d6f' } },
  getShootVerify: { parameters: { ...SHOOT, ...SINCE } },
  getToken: { parameters: { id: 'wallpage' } },
  getVolume: { parameters: { key: 'exfat-1a2b-3c4d' } },
  holdProxyPlan: { parameters: SHOOT, body: { note: 'The disk is needed tonight.' } },
  judgeRoll: { parameters: ROLL },
  listChanges: { parameters: { limit: 50 } },
  listChannels: {},
  listClips: { parameters: { ...SHOOT, recorder: 'wheel', kind: 'picture', limit: 50 } },
  listCodes: {},
  listCopies: { parameters: { ...ROLL, state: 'verified', limit: 50 } },
  listDeliveries: { parameters: { state: 'due', limit: 50 } },
  listEvents: { parameters: { after: '0', limit: 50 } },
  listFindings: { parameters: { severity: 'warning', limit: 50 } },
  listGroups: { parameters: { ...SHOOT, limit: 50 } },
  listPlugins: {},
  listRecords: { parameters: SHOOT },
  listRolls: { parameters: { shoot: 'kiln-day', verdict: 'hold', limit: 50 } },
  listRuns: { parameters: { shoot: 'kiln-day', state: 'failed', limit: 50 } },
  listShootFindings: { parameters: { ...SHOOT, severity: 'warning', acknowledged: 'false' } },
  listShoots: {},
  listSteps: {},
  listTokens: { parameters: { state: 'good', sort: '-madeAt' } },
  listVolumes: {},
  makeToken: { body: { name: 'wall screen', scope: 'read', days: 90 } },
  moveRoll: { parameters: { id: 'wide-20260301-1a2b3c' }, body: { shootId: 'throwing-day' } },
  openShoot: { body: { name: 'Glaze day' } },
  planCapacity: { parameters: { recorders: '4', format: 'prores-422-lt/3840x2160/25', hours: 4 } },
  renameShoot: { parameters: SHOOT, body: { name: 'Kiln day, second firing' } },
  renderProxies: { parameters: SHOOT, body: { clips: [PLANNED] } },
  replanProxies: { parameters: SHOOT, body: {} },
  retryRoll: { parameters: { id: 'hands-20260301-1a2b3c' }, body: { destination: 'backup' } },
  retryRun: { parameters: { id: '00000000000000a2' } },
  retryShoot: { parameters: SHOOT, body: { step: 'checksum', destination: 'backup' } },
  revokeToken: { parameters: { id: 'oldphone' } },
  signIn: {},
  signOut: {},
  skipRun: { parameters: { id: '00000000000000a1' } },
  startRebuild: { body: { shootId: 'kiln-day' } },
  streamEvents: { parameters: { after: '0' } },
  testChannel: { parameters: { name: 'planning' } },
  verifyDestination: { parameters: { id: 'primary' } },
  verifyShoot: { parameters: SHOOT },
};
