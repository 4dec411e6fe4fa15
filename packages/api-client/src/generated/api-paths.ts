// Made by `npm run generate --workspace @quayside/api-client` from the API's OpenAPI document; not to be edited by hand.
/* oxlint-disable -- a generator has its own ways */

export interface paths {
  readonly '/v1/health/live': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** Answers as long as the API runs; needs no token */
    readonly get: operations['getLiveness'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/health/ready': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** Whether the service does its work now, 503 when not; needs no token */
    readonly get: operations['getReadiness'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/health': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** Whether Redis, the watcher and the worker are there */
    readonly get: operations['getHealth'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The shoots, newest first */
    readonly get: operations['listShoots'];
    readonly put?: never;
    /** Open a shoot by name; rolls that arrive go to it until it is closed */
    readonly post: operations['openShoot'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One shoot and its rolls with their verdicts */
    readonly get: operations['getShoot'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/rename': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Give a shoot another name; its id and its folders stay */
    readonly post: operations['renameShoot'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/close': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Close a shoot: no further roll goes to it by itself */
    readonly post: operations['closeShoot'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/groups': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** What ran together, clip by clip, and from where it can be edited now */
    readonly get: operations['listGroups'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/clips': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The clips of a shoot with their facts, by roll and path */
    readonly get: operations['listClips'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/findings': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The findings of a shoot, the gravest first */
    readonly get: operations['listShootFindings'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/findings/{finding}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One finding of a shoot */
    readonly get: operations['getShootFinding'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/findings/{finding}/acknowledge': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Note that a person has seen a finding; it stays so when it is worked out again */
    readonly post: operations['acknowledgeFinding'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/proxies': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The plan of the proxies: which clips get one and why, what they weigh and take, and in which order */
    readonly get: operations['getProxyPlan'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/proxies/approve': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Approve the plan of proxies: they are made, where they waited for it or were held */
    readonly post: operations['approveProxyPlan'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/proxies/render': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Make the planned proxies that failed or were stopped; the others are made by themselves */
    readonly post: operations['renderProxies'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/proxies/plan': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Plan the proxies anew, with the room that there is now and what was measured since */
    readonly post: operations['replanProxies'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/proxies/cancel': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Stop the proxies that are being made, and hold the plan unless clips are named */
    readonly post: operations['cancelProxies'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/proxies/hold': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Hold the plan of proxies: none is begun until it is approved; those under way are finished */
    readonly post: operations['holdProxyPlan'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/capacity': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** What a shoot takes, whether it fits on drives and destinations, and how long it takes to bring it in */
    readonly get: operations['planCapacity'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/records': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The timelines, tables and reports of a shoot, at each destination */
    readonly get: operations['listRecords'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/records/{name}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One file of the records: OpenTimelineIO, JSON, CSV or the report as a page */
    readonly get: operations['getRecord'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/records/{folder}/{name}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One file of the records: OpenTimelineIO, JSON, CSV or the report as a page */
    readonly get: operations['getRecordInFolder'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/rolls': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The rolls, newest first, with their verdicts */
    readonly get: operations['listRolls'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/rolls/{id}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One roll: activity, rate, time left, verdict with its reasons, destinations, findings */
    readonly get: operations['getRoll'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/rolls/{id}/copies': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** Each file of a roll at each destination, with its hashes once it is there */
    readonly get: operations['listCopies'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/rolls/{id}/move': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Move a roll that is not sealed yet to another shoot */
    readonly post: operations['moveRoll'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/rolls/{id}/judge': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Judge a roll again, from what lies on the media now */
    readonly post: operations['judgeRoll'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/rolls/{id}/retry': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /**
     * Take up again what failed of a roll: all of it, or at one destination, or in one step
     * @description A roll that holds though nothing failed (a copy is gone, a manifest was altered) is gone through again when no step is named.
     */
    readonly post: operations['retryRoll'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/retry': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /**
     * Take up again what failed of a shoot: all of it, or at one destination, or in one step
     * @description Rolls that only wait for their drive are left waiting. Steps over the whole shoot are made again too.
     */
    readonly post: operations['retryShoot'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/runs/{id}/retry': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /**
     * Take up again what failed in one run
     * @description The id stands in the event `run.failed`, in the log, and with the failures of a roll. Runs are not kept: what failed in one is read from the state of its roll or shoot.
     */
    readonly post: operations['retryRun'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/volumes': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** Every volume that the service has seen, those that are connected first */
    readonly get: operations['listVolumes'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/volumes/{key}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One volume */
    readonly get: operations['getVolume'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/volumes/{key}/assign': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Say which recorder a volume belongs to, and if wanted to which shoot its footage goes */
    readonly post: operations['assignVolume'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/shoots/{id}/verify': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** How far the reading of a shoot, at every destination is that was asked for at a moment */
    readonly get: operations['getShootVerify'];
    readonly put?: never;
    /** Read everything of a shoot, at every destination again from its medium, and make anew what is bad */
    readonly post: operations['verifyShoot'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/destinations/{id}/verify': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** How far the reading at a destination is that was asked for at a moment */
    readonly get: operations['getDestinationVerify'];
    readonly put?: never;
    /** Read everything at a destination again from its medium, and make anew what is bad */
    readonly post: operations['verifyDestination'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/findings': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The findings of all rolls and of channels that do not work, the gravest first */
    readonly get: operations['listFindings'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/events': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** Events as they happen (server-sent); resumes after `Last-Event-ID` or `after`, else begins now */
    readonly get: operations['streamEvents'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/events/list': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** Events by page, oldest first; go on with `after` set to `next` */
    readonly get: operations['listEvents'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/rebuild': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** What came of the last remaking of the view */
    readonly get: operations['getRebuild'];
    readonly put?: never;
    /**
     * Hold the view against the records beside the footage, and remake what it lacks
     * @description What the view has lost or fallen behind in is taken over, never with a verdict: such a roll holds until its drive is connected and judged. Rolls that are under way, and what the view knows beyond the records, are left as they are. Every difference is told. What came of it is under `GET /v1/rebuild`.
     */
    readonly post: operations['startRebuild'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/channels': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The channels that messages go by, and how they fare; no secret is shown */
    readonly get: operations['listChannels'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/channels/{name}/test': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Send a test by one channel; what became of it is then listed under its thread */
    readonly post: operations['testChannel'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/deliveries': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** What was told to whom, and what is still to be sent, the newest first */
    readonly get: operations['listDeliveries'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/metrics': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The numbers of the service, in the text format of Prometheus */
    readonly get: operations['getMetrics'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/plugins': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The plugins of the configuration; one that is left out has a `failure` that says why */
    readonly get: operations['listPlugins'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/steps': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The graph of steps, built-in ones and those of plugins in use: what each comes after */
    readonly get: operations['listSteps'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/runs': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The last run of each plugin's step on each of its subjects, the newest first */
    readonly get: operations['listRuns'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/runs/{id}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One run of a plugin's step with its output, its files and its log */
    readonly get: operations['getRun'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/runs/{id}/cancel': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Stop a run of a plugin's step that is under way; it rests until something of it changes */
    readonly post: operations['cancelRun'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/runs/{id}/skip': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Leave a run of a plugin's step out until its subject, its configuration or its plugin changes */
    readonly post: operations['skipRun'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/audit': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The changes that people asked for, the newest first */
    readonly get: operations['listChanges'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/tokens': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The tokens that were made, the void ones too; the tokens themselves are nowhere */
    readonly get: operations['listTokens'];
    readonly put?: never;
    /** Make a token for somebody; it is shown this once, and counts at once */
    readonly post: operations['makeToken'];
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/tokens/{id}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** One token that was made */
    readonly get: operations['getToken'];
    readonly put?: never;
    readonly post?: never;
    /** Make a token void from now on, and the sign-ins that were made with it */
    readonly delete: operations['revokeToken'];
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/configuration': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** The configuration in force, defaults filled in; secrets, and what may be one, are shown as `***` */
    readonly get: operations['getConfiguration'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/session': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly get?: never;
    readonly put?: never;
    /** Sign a browser in: a cookie that no script can read, and a key that goes with it; neither opens alone */
    readonly post: operations['signIn'];
    /** Sign this browser out */
    readonly delete: operations['signOut'];
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/problems/{code}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** What a kind of problem means, and what to do */
    readonly get: operations['getProblemKind'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/codes': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** What every code of a finding, a reason, an event or an error means, and what to do */
    readonly get: operations['listCodes'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
  readonly '/v1/codes/{code}': {
    readonly parameters: {
      readonly query?: never;
      readonly header?: never;
      readonly path?: never;
      readonly cookie?: never;
    };
    /** What one code means, and what to do */
    readonly get: operations['getCode'];
    readonly put?: never;
    readonly post?: never;
    readonly delete?: never;
    readonly options?: never;
    readonly head?: never;
    readonly patch?: never;
    readonly trace?: never;
  };
}
export type webhooks = Record<string, never>;
export interface components {
  schemas: {
    readonly Problem: {
      /** @description What kind of problem it is: a URI reference that explains itself, such as /problems/roll-unknown. */
      readonly type: string;
      readonly title: string;
      readonly status: number;
      /** @description One sentence for the operator: what, where, why and what to do. */
      readonly detail: string;
      /** @description The id of this request in the log of the service. */
      readonly instance?: string;
      /** @description The values that cannot be used; `pointer` is a JSON Pointer into the body, the query or the path. */
      readonly errors?: readonly {
        readonly detail: string;
        readonly pointer: string;
      }[];
    };
  };
  responses: never;
  parameters: never;
  requestBodies: never;
  headers: never;
  pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
  readonly getLiveness: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {boolean} */
            readonly live: true;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getReadiness: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly ready: boolean;
            readonly waitsFor: readonly ('redis' | 'watcher' | 'worker')[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description It cannot be told now. */
      readonly 503: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly ready: boolean;
            readonly waitsFor: readonly ('redis' | 'watcher' | 'worker')[];
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getHealth: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly ok: boolean;
            readonly version: string;
            /** @enum {string} */
            readonly redis: 'reachable' | 'away';
            readonly watcher: {
              readonly alive: boolean;
              readonly said: string | null;
            };
            readonly worker: {
              readonly alive: boolean;
              readonly said: string | null;
            };
            /** @description What is unsafe about the Redis in use, a sentence each. */
            readonly cautions: readonly string[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description It cannot be told now. */
      readonly 503: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly ok: boolean;
            readonly version: string;
            /** @enum {string} */
            readonly redis: 'reachable' | 'away';
            readonly watcher: {
              readonly alive: boolean;
              readonly said: string | null;
            };
            readonly worker: {
              readonly alive: boolean;
              readonly said: string | null;
            };
            /** @description What is unsafe about the Redis in use, a sentence each. */
            readonly cautions: readonly string[];
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listShoots: {
    readonly parameters: {
      readonly query?: {
        /** @description Only those that are open, or that are closed. */
        readonly isOpen?: 'true' | 'false';
        /** @description What to sort by, with a `-` from the highest down: openedAt, closedAt, id, name, rollCount, holdCount; several with commas. */
        readonly sort?: string;
        /** @description Rows in one page; all when it is left out. */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly shoots: readonly {
              readonly id: string;
              readonly name: string;
              /** Format: date-time */
              readonly openedAt: string;
              readonly closedAt: string | null;
              readonly named: boolean;
              readonly rollCount: number;
              /** @description Rolls whose drives may be recorded over. */
              readonly clearCount: number;
              readonly holdCount: number;
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly openShoot: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody: {
      readonly content: {
        /**
         * @example {
         *       "name": "Glaze day"
         *     }
         */
        readonly 'application/json': {
          readonly name: string;
        };
      };
    };
    readonly responses: {
      /** @description It was made. */
      readonly 201: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly name: string;
            /** Format: date-time */
            readonly openedAt: string;
            readonly closedAt: string | null;
            readonly named: boolean;
            readonly rollCount: number;
            /** @description Rolls whose drives may be recorded over. */
            readonly clearCount: number;
            readonly holdCount: number;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getShoot: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly name: string;
            /** Format: date-time */
            readonly openedAt: string;
            readonly closedAt: string | null;
            readonly named: boolean;
            readonly rollCount: number;
            /** @description Rolls whose drives may be recorded over. */
            readonly clearCount: number;
            readonly holdCount: number;
            readonly rolls: readonly {
              readonly id: string;
              readonly shootId: string;
              readonly movingTo: string | null;
              readonly recorder: string;
              /** @enum {string} */
              readonly role: 'camera' | 'sound' | 'program';
              readonly volume: {
                readonly key: string;
                readonly label: string | null;
                readonly fileSystem: string;
              };
              readonly drivePresent: boolean;
              readonly mountPath: string | null;
              /** @enum {string} */
              readonly activity:
                | 'waiting'
                | 'copying'
                | 'verifying'
                | 'sealing'
                | 'judging'
                | 'interrupted'
                | 'resting';
              readonly visit: number;
              readonly fileCount: number;
              readonly sizeInBytes: number;
              readonly litterCount: number;
              readonly progress: {
                readonly totalBytes: number;
                /** @description Share of all work: each byte is written and read back at each destination. */
                readonly fraction: number;
                readonly bytesPerSecond: number;
                /** @description At the present rate, or null when nothing moves. */
                readonly secondsLeft: number | null;
              };
              /** @description May the drive be recorded over? Only `clear` means yes. */
              readonly clearance:
                | {
                    /** @enum {string} */
                    readonly verdict: 'clear';
                    /** Format: date-time */
                    readonly judgedAt: string;
                    readonly cautions: readonly string[];
                  }
                | {
                    /** @enum {string} */
                    readonly verdict: 'hold';
                    /** Format: date-time */
                    readonly judgedAt: string;
                    readonly reasons: readonly {
                      readonly code: string;
                      readonly sentence: string;
                      readonly destination?: string;
                      readonly path?: string;
                    }[];
                  };
              /** @description True while a newer verdict is on its way. */
              readonly judgementPending: boolean;
              readonly destinations: {
                readonly [key: string]: {
                  /** @enum {string} */
                  readonly standing: 'taking' | 'skipped';
                  /** @description Why it is skipped or could not be sealed, or null. */
                  readonly failure: {
                    readonly code: string;
                    readonly sentence: string;
                    /** @enum {string} */
                    readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
                  } | null;
                  /** @description The manifest generation that covers the roll, or null while it is not sealed. */
                  readonly sealedGeneration: number | null;
                  /** @description Parcels (a large file, or neighbouring small ones) by the state of their copy. */
                  readonly parcels: {
                    readonly absent: number;
                    readonly writing: number;
                    readonly written: number;
                    readonly verified: number;
                    readonly failed: number;
                  };
                  readonly verifiedFiles: number;
                  readonly verifiedBytes: number;
                  /** @description Since when everything proven there has been read back, or null. */
                  readonly readBackAt: string | null;
                  /** @description The last time that it was read again, or is being read; null when never. */
                  readonly reread: {
                    /** Format: date-time */
                    readonly since: string;
                    readonly next: number;
                    readonly badFiles: number;
                    readonly endedAt: string | null;
                    readonly generation: number | null;
                    readonly failure: {
                      readonly code: string;
                      readonly sentence: string;
                      /** @enum {string} */
                      readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
                    } | null;
                  } | null;
                };
              };
              readonly findingCount: number;
              /** Format: date-time */
              readonly openedAt: string;
              /** Format: date-time */
              readonly changedAt: string;
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly renameShoot: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody: {
      readonly content: {
        /**
         * @example {
         *       "name": "Kiln day, second firing"
         *     }
         */
        readonly 'application/json': {
          readonly name: string;
        };
      };
    };
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly name: string;
            /** Format: date-time */
            readonly openedAt: string;
            readonly closedAt: string | null;
            readonly named: boolean;
            readonly rollCount: number;
            /** @description Rolls whose drives may be recorded over. */
            readonly clearCount: number;
            readonly holdCount: number;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly closeShoot: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example throwing-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly name: string;
            /** Format: date-time */
            readonly openedAt: string;
            readonly closedAt: string | null;
            readonly named: boolean;
            readonly rollCount: number;
            /** @description Rolls whose drives may be recorded over. */
            readonly clearCount: number;
            readonly holdCount: number;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listGroups: {
    readonly parameters: {
      readonly query?: {
        /** @description What to sort by, with a `-` from the highest down: recorded; several with commas. */
        readonly sort?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only groups that can, or cannot, be edited somewhere now. */
        readonly editable?: 'true' | 'false';
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly groups: readonly {
              readonly id: string;
              readonly day: {
                /** Format: date */
                readonly date: string;
                readonly isCertain: boolean;
              };
              readonly rate: {
                readonly numerator: number;
                readonly denominator: number;
                readonly name: string;
                readonly isDropFrame: boolean;
              };
              /** @enum {string} */
              readonly rateFrom: 'pictures' | 'sound' | 'shoot' | 'assumed';
              readonly start: {
                readonly count: number;
                readonly timecode: string;
                readonly secondsOfDay: {
                  readonly numerator: number;
                  readonly denominator: number;
                };
              };
              readonly lengthInFrames: number;
              readonly members: readonly {
                readonly clipId: string;
                readonly recorder: string;
                /** @enum {string} */
                readonly role: 'camera' | 'sound' | 'program';
                readonly offset: {
                  readonly numerator: number;
                  readonly denominator: number;
                };
                readonly offsetInFrames: number;
                readonly offsetInSamples: number;
                readonly sampleRate: number;
                readonly range: {
                  /** @enum {string} */
                  readonly unit: 'frames' | 'samples';
                  readonly rate: {
                    readonly numerator: number;
                    readonly denominator: number;
                  };
                  readonly from: number;
                  readonly length: number;
                };
                readonly isShared: boolean;
                /** @enum {string} */
                readonly placedBy: 'timecode' | 'other-rate' | 'shifted' | 'file-times';
                /** @enum {string} */
                readonly confidence: 'sure' | 'likely' | 'weak';
                readonly restsOn: string;
              }[];
              /** @description Destinations at which every clip of the group has a copy that was read back and proven. */
              readonly editableAt: readonly string[];
              /** @description By destination: how many of its clips have no proven copy there yet. */
              readonly unproven: {
                readonly [key: string]: number;
              };
            }[];
            readonly next: string | null;
            /** @description False while newer facts of clips are still being worked out. */
            readonly isCurrent: boolean;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listClips: {
    readonly parameters: {
      readonly query?: {
        /** @example wheel */
        readonly recorder?: string;
        readonly roll?: string;
        /** @example picture */
        readonly kind?: 'picture' | 'sound' | 'other';
        /** @description What to sort by, with a `-` from the highest down: id, recorder, path, sizeInBytes, modifiedAt, durationMs; several with commas. */
        readonly sort?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly clips: readonly {
              readonly id: string;
              readonly rollId: string;
              readonly path: string;
              readonly recorder: string;
              /** @enum {string} */
              readonly role: 'camera' | 'sound' | 'program';
              readonly sizeInBytes: number;
              /** Format: date-time */
              readonly modifiedAt: string;
              readonly facts: {
                /** @enum {string} */
                readonly kind: 'picture' | 'sound' | 'other';
                readonly container: string | null;
                readonly durationMs: number | null;
                readonly picture: {
                  readonly codec: string;
                  readonly profile: string | null;
                  readonly width: number;
                  readonly height: number;
                  readonly pixelAspect: {
                    readonly numerator: number;
                    readonly denominator: number;
                  } | null;
                  readonly rate: {
                    readonly numerator: number;
                    readonly denominator: number;
                  } | null;
                  readonly isVariableRate: boolean;
                  readonly frameCount: number | null;
                  readonly scan: ('progressive' | 'interlaced' | 'mixed') | null;
                  readonly bitDepth: number | null;
                  readonly chroma: string | null;
                  readonly colour: {
                    readonly primaries: string | null;
                    readonly transfer: string | null;
                    readonly matrix: string | null;
                  };
                } | null;
                readonly startTimecode: string | null;
                readonly sound: readonly {
                  readonly codec: string;
                  readonly channels: number;
                  readonly sampleRate: number | null;
                  readonly bitDepth: number | null;
                  readonly sampleCount: number | null;
                }[];
                readonly wave: {
                  readonly timeReference: number | null;
                  readonly originator: string | null;
                  readonly originatedAt: string | null;
                  readonly project: string | null;
                  readonly scene: string | null;
                  readonly take: string | null;
                  readonly tape: string | null;
                  readonly fileUid: string | null;
                  readonly timecodeRate: {
                    readonly numerator: number;
                    readonly denominator: number;
                  } | null;
                  readonly isDropFrame: boolean | null;
                  readonly samplesSinceMidnight: number | null;
                  readonly timestampSampleRate: number | null;
                  readonly trackNames: readonly string[];
                } | null;
                readonly device: {
                  readonly make: string | null;
                  readonly model: string | null;
                  readonly serial: string | null;
                };
                readonly reel: string | null;
                readonly created: {
                  readonly at: string;
                  /** @enum {string} */
                  readonly zone: 'utc' | 'offset' | 'unknown';
                } | null;
                readonly damage: readonly {
                  /** @enum {string} */
                  readonly kind: 'truncated' | 'no-index' | 'zero-length' | 'frame-gaps' | 'sound-short' | 'unreadable';
                  readonly why: string;
                }[];
              };
              /** @description The sync groups that it is in; several for a recording that runs through takes. */
              readonly groupIds: readonly string[];
              /** @description The state of its copy by destination. */
              readonly copies: {
                readonly [key: string]: 'absent' | 'writing' | 'written' | 'verified' | 'failed';
              };
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listShootFindings: {
    readonly parameters: {
      readonly query?: {
        /** @description What to sort by, with a `-` from the highest down: severity, at, code; several with commas. */
        readonly sort?: string;
        /** @description Rows in one page; all when it is left out. */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @example warning */
        readonly severity?: 'info' | 'warning' | 'critical';
        readonly code?: string;
        /** @example false */
        readonly acknowledged?: 'true' | 'false';
        readonly recorder?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly findings: readonly {
              readonly code: string;
              /** @enum {string} */
              readonly severity: 'info' | 'warning' | 'critical';
              readonly subject: {
                /** @enum {string} */
                readonly kind: 'service' | 'shoot' | 'volume' | 'roll' | 'clip' | 'destination';
                readonly id: string;
                readonly path?: string;
              };
              readonly why: string;
              readonly remedy: string;
              /** Format: date-time */
              readonly at: string;
              /** @description Stays the same while the finding is about the same matter. */
              readonly id: string;
              readonly groupId: string | null;
              readonly recorder: string | null;
              /** @description The roll that it belongs to, or null for a matter of the whole shoot. */
              readonly rollId: string | null;
              readonly clipIds: readonly string[];
              readonly acknowledged: {
                readonly by: string;
                /** Format: date-time */
                readonly at: string;
                readonly note: string;
              } | null;
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getShootFinding: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
        /** @example a75616737e092d6f */
        readonly finding: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly code: string;
            /** @enum {string} */
            readonly severity: 'info' | 'warning' | 'critical';
            readonly subject: {
              /** @enum {string} */
              readonly kind: 'service' | 'shoot' | 'volume' | 'roll' | 'clip' | 'destination';
              readonly id: string;
              readonly path?: string;
            };
            readonly why: string;
            readonly remedy: string;
            /** Format: date-time */
            readonly at: string;
            /** @description Stays the same while the finding is about the same matter. */
            readonly id: string;
            readonly groupId: string | null;
            readonly recorder: string | null;
            /** @description The roll that it belongs to, or null for a matter of the whole shoot. */
            readonly rollId: string | null;
            readonly clipIds: readonly string[];
            readonly acknowledged: {
              readonly by: string;
              /** Format: date-time */
              readonly at: string;
              readonly note: string;
            } | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly acknowledgeFinding: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
        /** @example a75616737e092d6f */
        readonly finding: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody: {
      readonly content: {
        /**
         * @example {
         *       "by": "ada",
         *       "note": "Seen; the recorder is set right."
         *     }
         */
        readonly 'application/json': {
          readonly by: string;
          /** @default  */
          readonly note?: string;
        };
      };
    };
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly code: string;
            /** @enum {string} */
            readonly severity: 'info' | 'warning' | 'critical';
            readonly subject: {
              /** @enum {string} */
              readonly kind: 'service' | 'shoot' | 'volume' | 'roll' | 'clip' | 'destination';
              readonly id: string;
              readonly path?: string;
            };
            readonly why: string;
            readonly remedy: string;
            /** Format: date-time */
            readonly at: string;
            /** @description Stays the same while the finding is about the same matter. */
            readonly id: string;
            readonly groupId: string | null;
            readonly recorder: string | null;
            /** @description The roll that it belongs to, or null for a matter of the whole shoot. */
            readonly rollId: string | null;
            readonly clipIds: readonly string[];
            readonly acknowledged: {
              readonly by: string;
              /** Format: date-time */
              readonly at: string;
              readonly note: string;
            } | null;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getProxyPlan: {
    readonly parameters: {
      readonly query?: {
        /** @description What to sort by, with a `-` from the highest down: order, path, recorder; several with commas. */
        readonly sort?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @example planned */
        readonly state?: 'planned' | 'left-out' | 'not-needed' | 'impossible';
        readonly recorder?: string;
        /** @description Only clips whose proxies stand so. */
        readonly rendering?:
          | 'planned'
          | 'waiting'
          | 'rendering'
          | 'held-up'
          | 'made'
          | 'recognised'
          | 'failed'
          | 'cancelled'
          | 'left-out'
          | 'not-needed'
          | 'impossible';
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @description Null while no plan was made: nothing is known of the clips yet, or none is wanted. */
            readonly plannedAt: string | null;
            /** @description False while newer groups or another policy are still being planned with. */
            readonly isCurrent: boolean;
            readonly totals: {
              readonly planned: {
                readonly count: number;
                readonly bytes: {
                  readonly expected: number;
                  readonly low: number;
                  readonly high: number;
                };
                readonly seconds: {
                  readonly expected: number;
                  readonly low: number;
                  readonly high: number;
                };
              };
              readonly leftOut: {
                readonly count: number;
                readonly bytes: {
                  readonly expected: number;
                  readonly low: number;
                  readonly high: number;
                };
                readonly seconds: {
                  readonly expected: number;
                  readonly low: number;
                  readonly high: number;
                };
              };
              readonly notNeededCount: number;
              readonly impossibleCount: number;
            } | null;
            readonly budget: {
              readonly bytes: number;
              /** @enum {string} */
              readonly setBy: 'policy' | 'free space';
              readonly place: string | null;
            } | null;
            /** @description What the plan says otherwise than the one before it. */
            readonly changes: readonly {
              readonly sentence: string;
              readonly clipIds: readonly string[];
            }[];
            /** @description Whether proxies may be made, and who said so; null without a plan. */
            readonly standing: {
              /** @enum {string} */
              readonly state: 'free' | 'asked' | 'approved' | 'held';
              readonly said: {
                readonly by: string;
                readonly note: string;
                /** Format: date-time */
                readonly at: string;
              } | null;
              readonly changes: readonly {
                readonly sentence: string;
                readonly clipIds: readonly string[];
              }[];
            } | null;
            /** @description What the proxies came to that are made, beside what the plan had said of the same ones. */
            readonly made: {
              readonly count: number;
              readonly bytes: number;
              readonly seconds: number;
              readonly predicted: {
                readonly bytes: number;
                readonly seconds: number;
              };
            };
            /** @description In the order of the work; then those left out, and those that need none. */
            readonly clips: readonly (
              | {
                  readonly clipId: string;
                  readonly recorder: string;
                  readonly path: string;
                  readonly groupId: string | null;
                  readonly why: string;
                  readonly rule: string;
                  readonly proxy: {
                    /** @enum {string} */
                    readonly codec: 'prores-422-proxy' | 'h264';
                    readonly megabits: number | null;
                    readonly width: number;
                    readonly height: number;
                    readonly pixelAspect: {
                      readonly numerator: number;
                      readonly denominator: number;
                    };
                    readonly isExactAspect: boolean;
                    readonly scan: ('progressive' | 'interlaced' | 'mixed') | null;
                    readonly rate: {
                      readonly numerator: number;
                      readonly denominator: number;
                    };
                    readonly isVariableRate: boolean;
                    readonly frameCount: number;
                    readonly startTimecode: string | null;
                    readonly sound: readonly {
                      readonly channels: number;
                      readonly sampleRate: number;
                      /** @enum {number} */
                      readonly bitDepth: 16 | 24;
                    }[];
                  };
                  readonly bytes: {
                    readonly expected: number;
                    readonly low: number;
                    readonly high: number;
                    /** @enum {string} */
                    readonly basis:
                      | 'published table'
                      | 'scaled from the published table'
                      | 'bit rate asked for'
                      | 'measured here'
                      | 'measured here at another size'
                      | 'measured here with another codec'
                      | 'never measured here';
                  };
                  readonly seconds: {
                    readonly expected: number;
                    readonly low: number;
                    readonly high: number;
                    /** @enum {string} */
                    readonly basis:
                      | 'published table'
                      | 'scaled from the published table'
                      | 'bit rate asked for'
                      | 'measured here'
                      | 'measured here at another size'
                      | 'measured here with another codec'
                      | 'never measured here';
                  };
                  /** @enum {string} */
                  readonly state: 'planned';
                  readonly rendering: {
                    /** @enum {string} */
                    readonly state:
                      | 'planned'
                      | 'waiting'
                      | 'rendering'
                      | 'held-up'
                      | 'made'
                      | 'recognised'
                      | 'failed'
                      | 'cancelled'
                      | 'left-out'
                      | 'not-needed'
                      | 'impossible';
                    readonly why: string;
                    readonly fraction: number | null;
                    readonly run: string | null;
                    readonly made: {
                      readonly bytes: number;
                      readonly seconds: number;
                      readonly encoder: string;
                      readonly predicted: {
                        readonly bytes: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                        readonly seconds: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                      };
                    } | null;
                  };
                }
              | {
                  readonly clipId: string;
                  readonly recorder: string;
                  readonly path: string;
                  readonly groupId: string | null;
                  readonly why: string;
                  readonly rule: string;
                  readonly proxy: {
                    /** @enum {string} */
                    readonly codec: 'prores-422-proxy' | 'h264';
                    readonly megabits: number | null;
                    readonly width: number;
                    readonly height: number;
                    readonly pixelAspect: {
                      readonly numerator: number;
                      readonly denominator: number;
                    };
                    readonly isExactAspect: boolean;
                    readonly scan: ('progressive' | 'interlaced' | 'mixed') | null;
                    readonly rate: {
                      readonly numerator: number;
                      readonly denominator: number;
                    };
                    readonly isVariableRate: boolean;
                    readonly frameCount: number;
                    readonly startTimecode: string | null;
                    readonly sound: readonly {
                      readonly channels: number;
                      readonly sampleRate: number;
                      /** @enum {number} */
                      readonly bitDepth: 16 | 24;
                    }[];
                  };
                  readonly bytes: {
                    readonly expected: number;
                    readonly low: number;
                    readonly high: number;
                    /** @enum {string} */
                    readonly basis:
                      | 'published table'
                      | 'scaled from the published table'
                      | 'bit rate asked for'
                      | 'measured here'
                      | 'measured here at another size'
                      | 'measured here with another codec'
                      | 'never measured here';
                  };
                  readonly seconds: {
                    readonly expected: number;
                    readonly low: number;
                    readonly high: number;
                    /** @enum {string} */
                    readonly basis:
                      | 'published table'
                      | 'scaled from the published table'
                      | 'bit rate asked for'
                      | 'measured here'
                      | 'measured here at another size'
                      | 'measured here with another codec'
                      | 'never measured here';
                  };
                  /** @enum {string} */
                  readonly state: 'left-out';
                  readonly rendering: {
                    /** @enum {string} */
                    readonly state:
                      | 'planned'
                      | 'waiting'
                      | 'rendering'
                      | 'held-up'
                      | 'made'
                      | 'recognised'
                      | 'failed'
                      | 'cancelled'
                      | 'left-out'
                      | 'not-needed'
                      | 'impossible';
                    readonly why: string;
                    readonly fraction: number | null;
                    readonly run: string | null;
                    readonly made: {
                      readonly bytes: number;
                      readonly seconds: number;
                      readonly encoder: string;
                      readonly predicted: {
                        readonly bytes: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                        readonly seconds: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                      };
                    } | null;
                  };
                }
              | {
                  readonly clipId: string;
                  readonly recorder: string;
                  readonly path: string;
                  readonly groupId: string | null;
                  readonly why: string;
                  /** @enum {string} */
                  readonly state: 'not-needed';
                  readonly rule: string | null;
                  readonly rendering: {
                    /** @enum {string} */
                    readonly state:
                      | 'planned'
                      | 'waiting'
                      | 'rendering'
                      | 'held-up'
                      | 'made'
                      | 'recognised'
                      | 'failed'
                      | 'cancelled'
                      | 'left-out'
                      | 'not-needed'
                      | 'impossible';
                    readonly why: string;
                    readonly fraction: number | null;
                    readonly run: string | null;
                    readonly made: {
                      readonly bytes: number;
                      readonly seconds: number;
                      readonly encoder: string;
                      readonly predicted: {
                        readonly bytes: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                        readonly seconds: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                      };
                    } | null;
                  };
                }
              | {
                  readonly clipId: string;
                  readonly recorder: string;
                  readonly path: string;
                  readonly groupId: string | null;
                  readonly why: string;
                  /** @enum {string} */
                  readonly state: 'impossible';
                  readonly rule: string | null;
                  readonly rendering: {
                    /** @enum {string} */
                    readonly state:
                      | 'planned'
                      | 'waiting'
                      | 'rendering'
                      | 'held-up'
                      | 'made'
                      | 'recognised'
                      | 'failed'
                      | 'cancelled'
                      | 'left-out'
                      | 'not-needed'
                      | 'impossible';
                    readonly why: string;
                    readonly fraction: number | null;
                    readonly run: string | null;
                    readonly made: {
                      readonly bytes: number;
                      readonly seconds: number;
                      readonly encoder: string;
                      readonly predicted: {
                        readonly bytes: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                        readonly seconds: {
                          readonly expected: number;
                          readonly low: number;
                          readonly high: number;
                        };
                      };
                    } | null;
                  };
                }
            )[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly approveProxyPlan: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /**
         * @example {
         *       "plannedAt": "2026-03-01T10:00:00.000Z",
         *       "note": "Go."
         *     }
         */
        readonly 'application/json': {
          /**
           * Format: date-time
           * @description The plan that was looked at; refused when there is a newer one.
           */
          readonly plannedAt?: string;
          /** @default  */
          readonly note?: string;
        } | null;
      };
    };
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {string} */
            readonly state: 'free' | 'asked' | 'approved' | 'held';
            readonly said: {
              readonly by: string;
              readonly note: string;
              /** Format: date-time */
              readonly at: string;
            } | null;
            readonly changes: readonly {
              readonly sentence: string;
              readonly clipIds: readonly string[];
            }[];
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly renderProxies: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /**
         * @example {
         *       "clips": [
         *         "wheel-20260301-1a2b3c/CLIPS/wheel-1.mov"
         *       ]
         *     }
         */
        readonly 'application/json': {
          /** @description Only these clips; all without it. */
          readonly clips?: readonly string[];
        } | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly sentence: string;
            readonly runs: readonly string[];
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly replanProxies: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /** @example {} */
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly sentence: string;
            readonly runs: readonly string[];
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly cancelProxies: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /**
         * @example {
         *       "clips": [
         *         "wheel-20260301-1a2b3c/CLIPS/wheel-1.mov"
         *       ]
         *     }
         */
        readonly 'application/json': {
          /** @description Only these clips; all without it. */
          readonly clips?: readonly string[];
        } | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly sentence: string;
            readonly runs: readonly string[];
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly holdProxyPlan: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /**
         * @example {
         *       "note": "The disk is needed tonight."
         *     }
         */
        readonly 'application/json': {
          /** @default  */
          readonly note?: string;
        } | null;
      };
    };
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {string} */
            readonly state: 'free' | 'asked' | 'approved' | 'held';
            readonly said: {
              readonly by: string;
              readonly note: string;
              /** Format: date-time */
              readonly at: string;
            } | null;
            readonly changes: readonly {
              readonly sentence: string;
              readonly clipIds: readonly string[];
            }[];
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly planCapacity: {
    readonly parameters: {
      readonly query: {
        /**
         * @description How many record, or which: `4`, or `wheel,hands`. Default: every camera and program of the configuration.
         * @example 4
         */
        readonly recorders?: string;
        /**
         * @description What they write: CODEC/SIZE/RATE or CODEC/SIZE/RATE/CHANNELS.
         * @example prores-422-lt/3840x2160/25
         */
        readonly format: string;
        /** @example 4 */
        readonly hours: number;
        /** @description Bytes of an empty drive in each recorder. Default: what is free on the drives that are connected, as last listed. */
        readonly drive?: number;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly recorders: readonly {
              readonly name: string;
              readonly format: string;
              readonly bytesPerSecond: number;
              readonly bytes: number;
              readonly isListed: boolean;
              readonly driveFreeBytes: number | null;
              readonly secondsLeft: number | null;
              readonly isEnough: boolean | null;
            }[];
            readonly bytes: number;
            readonly destinations: readonly {
              readonly name: string;
              readonly freeBytes: number | null;
              readonly sharedBy: number;
              readonly bytes: number;
              readonly secondsLeft: number | null;
              readonly isEnough: boolean | null;
            }[];
            readonly ingestSeconds: {
              readonly expected: number;
              readonly low: number;
              readonly high: number;
              /** @enum {string} */
              readonly basis:
                | 'published table'
                | 'scaled from the published table'
                | 'bit rate asked for'
                | 'measured here'
                | 'measured here at another size'
                | 'measured here with another codec'
                | 'never measured here';
            };
            readonly fits: boolean | null;
            readonly cautions: readonly string[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listRecords: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly records: readonly {
              readonly name: string;
              readonly sizeInBytes: number;
              readonly destination: string;
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getRecord: {
    readonly parameters: {
      readonly query?: {
        readonly destination?: string;
      };
      readonly header?: never;
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
        /** @example report.html */
        readonly name: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The file as it lies at the destination. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': unknown;
          readonly 'text/csv': unknown;
          readonly 'text/html': unknown;
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getRecordInFolder: {
    readonly parameters: {
      readonly query?: {
        readonly destination?: string;
      };
      readonly header?: never;
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
        /** @example take-1.otio */
        readonly name: string;
        /** @example sync-groups */
        readonly folder: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The file as it lies at the destination. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': unknown;
          readonly 'text/csv': unknown;
          readonly 'text/html': unknown;
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listRolls: {
    readonly parameters: {
      readonly query?: {
        /** @example kiln-day */
        readonly shoot?: string;
        /** @example hold */
        readonly verdict?: 'clear' | 'hold';
        readonly recorder?: string;
        /** @description What to sort by, with a `-` from the highest down: openedAt, changedAt, id, recorder, sizeInBytes, fileCount; several with commas. */
        readonly sort?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly rolls: readonly {
              readonly id: string;
              readonly shootId: string;
              readonly movingTo: string | null;
              readonly recorder: string;
              /** @enum {string} */
              readonly role: 'camera' | 'sound' | 'program';
              readonly volume: {
                readonly key: string;
                readonly label: string | null;
                readonly fileSystem: string;
              };
              readonly drivePresent: boolean;
              readonly mountPath: string | null;
              /** @enum {string} */
              readonly activity:
                | 'waiting'
                | 'copying'
                | 'verifying'
                | 'sealing'
                | 'judging'
                | 'interrupted'
                | 'resting';
              readonly visit: number;
              readonly fileCount: number;
              readonly sizeInBytes: number;
              readonly litterCount: number;
              readonly progress: {
                readonly totalBytes: number;
                /** @description Share of all work: each byte is written and read back at each destination. */
                readonly fraction: number;
                readonly bytesPerSecond: number;
                /** @description At the present rate, or null when nothing moves. */
                readonly secondsLeft: number | null;
              };
              /** @description May the drive be recorded over? Only `clear` means yes. */
              readonly clearance:
                | {
                    /** @enum {string} */
                    readonly verdict: 'clear';
                    /** Format: date-time */
                    readonly judgedAt: string;
                    readonly cautions: readonly string[];
                  }
                | {
                    /** @enum {string} */
                    readonly verdict: 'hold';
                    /** Format: date-time */
                    readonly judgedAt: string;
                    readonly reasons: readonly {
                      readonly code: string;
                      readonly sentence: string;
                      readonly destination?: string;
                      readonly path?: string;
                    }[];
                  };
              /** @description True while a newer verdict is on its way. */
              readonly judgementPending: boolean;
              readonly destinations: {
                readonly [key: string]: {
                  /** @enum {string} */
                  readonly standing: 'taking' | 'skipped';
                  /** @description Why it is skipped or could not be sealed, or null. */
                  readonly failure: {
                    readonly code: string;
                    readonly sentence: string;
                    /** @enum {string} */
                    readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
                  } | null;
                  /** @description The manifest generation that covers the roll, or null while it is not sealed. */
                  readonly sealedGeneration: number | null;
                  /** @description Parcels (a large file, or neighbouring small ones) by the state of their copy. */
                  readonly parcels: {
                    readonly absent: number;
                    readonly writing: number;
                    readonly written: number;
                    readonly verified: number;
                    readonly failed: number;
                  };
                  readonly verifiedFiles: number;
                  readonly verifiedBytes: number;
                  /** @description Since when everything proven there has been read back, or null. */
                  readonly readBackAt: string | null;
                  /** @description The last time that it was read again, or is being read; null when never. */
                  readonly reread: {
                    /** Format: date-time */
                    readonly since: string;
                    readonly next: number;
                    readonly badFiles: number;
                    readonly endedAt: string | null;
                    readonly generation: number | null;
                    readonly failure: {
                      readonly code: string;
                      readonly sentence: string;
                      /** @enum {string} */
                      readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
                    } | null;
                  } | null;
                };
              };
              readonly findingCount: number;
              /** Format: date-time */
              readonly openedAt: string;
              /** Format: date-time */
              readonly changedAt: string;
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getRoll: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example wheel-20260301-1a2b3c */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly shootId: string;
            readonly movingTo: string | null;
            readonly recorder: string;
            /** @enum {string} */
            readonly role: 'camera' | 'sound' | 'program';
            readonly volume: {
              readonly key: string;
              readonly label: string | null;
              readonly fileSystem: string;
            };
            readonly drivePresent: boolean;
            readonly mountPath: string | null;
            /** @enum {string} */
            readonly activity: 'waiting' | 'copying' | 'verifying' | 'sealing' | 'judging' | 'interrupted' | 'resting';
            readonly visit: number;
            readonly fileCount: number;
            readonly sizeInBytes: number;
            readonly litterCount: number;
            readonly progress: {
              readonly totalBytes: number;
              /** @description Share of all work: each byte is written and read back at each destination. */
              readonly fraction: number;
              readonly bytesPerSecond: number;
              /** @description At the present rate, or null when nothing moves. */
              readonly secondsLeft: number | null;
            };
            /** @description May the drive be recorded over? Only `clear` means yes. */
            readonly clearance:
              | {
                  /** @enum {string} */
                  readonly verdict: 'clear';
                  /** Format: date-time */
                  readonly judgedAt: string;
                  readonly cautions: readonly string[];
                }
              | {
                  /** @enum {string} */
                  readonly verdict: 'hold';
                  /** Format: date-time */
                  readonly judgedAt: string;
                  readonly reasons: readonly {
                    readonly code: string;
                    readonly sentence: string;
                    readonly destination?: string;
                    readonly path?: string;
                  }[];
                };
            /** @description True while a newer verdict is on its way. */
            readonly judgementPending: boolean;
            readonly destinations: {
              readonly [key: string]: {
                /** @enum {string} */
                readonly standing: 'taking' | 'skipped';
                /** @description Why it is skipped or could not be sealed, or null. */
                readonly failure: {
                  readonly code: string;
                  readonly sentence: string;
                  /** @enum {string} */
                  readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
                } | null;
                /** @description The manifest generation that covers the roll, or null while it is not sealed. */
                readonly sealedGeneration: number | null;
                /** @description Parcels (a large file, or neighbouring small ones) by the state of their copy. */
                readonly parcels: {
                  readonly absent: number;
                  readonly writing: number;
                  readonly written: number;
                  readonly verified: number;
                  readonly failed: number;
                };
                readonly verifiedFiles: number;
                readonly verifiedBytes: number;
                /** @description Since when everything proven there has been read back, or null. */
                readonly readBackAt: string | null;
                /** @description The last time that it was read again, or is being read; null when never. */
                readonly reread: {
                  /** Format: date-time */
                  readonly since: string;
                  readonly next: number;
                  readonly badFiles: number;
                  readonly endedAt: string | null;
                  readonly generation: number | null;
                  readonly failure: {
                    readonly code: string;
                    readonly sentence: string;
                    /** @enum {string} */
                    readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
                  } | null;
                } | null;
              };
            };
            readonly findingCount: number;
            /** Format: date-time */
            readonly openedAt: string;
            /** Format: date-time */
            readonly changedAt: string;
            readonly fingerprint: string;
            readonly parcelCount: number;
            /** @description The parcels whose last try failed; a retry takes them up again. */
            readonly failures: readonly {
              readonly destination: string;
              readonly parcel: number;
              readonly firstPath: string;
              readonly fileCount: number;
              /** @enum {string} */
              readonly step: 'ingest' | 'checksum';
              /** @description For `POST /v1/runs/{run}/retry`. */
              readonly run: string;
              readonly failure: {
                readonly code: string;
                readonly sentence: string;
                /** @enum {string} */
                readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
              };
            }[];
            readonly findings: readonly {
              readonly code: string;
              /** @enum {string} */
              readonly severity: 'info' | 'warning' | 'critical';
              readonly subject: {
                /** @enum {string} */
                readonly kind: 'service' | 'shoot' | 'volume' | 'roll' | 'clip' | 'destination';
                readonly id: string;
                readonly path?: string;
              };
              readonly why: string;
              readonly remedy: string;
              /** Format: date-time */
              readonly at: string;
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listCopies: {
    readonly parameters: {
      readonly query?: {
        /** @example verified */
        readonly state?: 'absent' | 'writing' | 'written' | 'verified' | 'failed';
        /** @example 50 */
        readonly limit?: number;
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example wheel-20260301-1a2b3c */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly visit: number;
            readonly copies: readonly {
              readonly path: string;
              readonly sizeInBytes: number;
              readonly destination: string;
              readonly copy:
                | {
                    /** @enum {string} */
                    readonly state: 'absent';
                  }
                | {
                    /** @enum {string} */
                    readonly state: 'writing';
                  }
                | {
                    /** @enum {string} */
                    readonly state: 'written';
                    readonly storedPath: string;
                    readonly digests: {
                      readonly [key: string]: string;
                    };
                  }
                | {
                    /** @enum {string} */
                    readonly state: 'verified';
                    readonly storedPath: string;
                    readonly digests: {
                      readonly [key: string]: string;
                    };
                    /** @enum {string} */
                    readonly method: 'direct' | 'dropped' | 'cached';
                  }
                | {
                    /** @enum {string} */
                    readonly state: 'failed';
                    readonly code: string;
                    readonly why: string;
                  };
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly moveRoll: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example wide-20260301-1a2b3c */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody: {
      readonly content: {
        /**
         * @example {
         *       "shootId": "throwing-day"
         *     }
         */
        readonly 'application/json': {
          readonly shootId: string;
        };
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly shootId: string;
            readonly movingTo: string | null;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly judgeRoll: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example wheel-20260301-1a2b3c */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly judgementPending: boolean;
            readonly sentence: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly retryRoll: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example hands-20260301-1a2b3c */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /**
         * @example {
         *       "destination": "backup"
         *     }
         */
        readonly 'application/json': {
          /** @description Only what failed at this destination. */
          readonly destination?: string;
          /**
           * @description Only what failed in this step of the pipeline.
           * @enum {string}
           */
          readonly step?: 'probe' | 'ingest' | 'checksum' | 'seal' | 'clearance';
        } | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly drivePresent: boolean;
            /** @description What is copied or read back again, by destination; zeros where only the manifest is written again. */
            readonly destinations: {
              readonly [key: string]: {
                readonly parcels: number;
                readonly files: number;
                readonly bytes: number;
              };
            };
            /** @description Whether the facts of its clips are read again. */
            readonly facts: boolean;
            /** @description Whether a new verdict follows. */
            readonly judgement: boolean;
            readonly sentence: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly retryShoot: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /**
         * @example {
         *       "step": "checksum",
         *       "destination": "backup"
         *     }
         */
        readonly 'application/json': {
          /** @description Only what failed at this destination. */
          readonly destination?: string;
          /**
           * @description Only what failed in this step.
           * @enum {string}
           */
          readonly step?:
            | 'probe'
            | 'ingest'
            | 'checksum'
            | 'seal'
            | 'clearance'
            | 'sync-grouping'
            | 'proxy-planning'
            | 'records';
        } | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @description The shoot, or the run. */
            readonly id: string;
            /** @description The rolls of which something is tried again. */
            readonly rolls: readonly {
              readonly id: string;
              readonly drivePresent: boolean;
              /** @description What is copied or read back again, by destination; zeros where only the manifest is written again. */
              readonly destinations: {
                readonly [key: string]: {
                  readonly parcels: number;
                  readonly files: number;
                  readonly bytes: number;
                };
              };
              /** @description Whether the facts of its clips are read again. */
              readonly facts: boolean;
              /** @description Whether a new verdict follows. */
              readonly judgement: boolean;
              readonly sentence: string;
            }[];
            /** @description The steps over the whole shoot that are made again. */
            readonly shootSteps: readonly ('sync-grouping' | 'proxy-planning' | 'records')[];
            readonly sentence: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly retryRun: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example 00000000000000a2 */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @description The shoot, or the run. */
            readonly id: string;
            /** @description The rolls of which something is tried again. */
            readonly rolls: readonly {
              readonly id: string;
              readonly drivePresent: boolean;
              /** @description What is copied or read back again, by destination; zeros where only the manifest is written again. */
              readonly destinations: {
                readonly [key: string]: {
                  readonly parcels: number;
                  readonly files: number;
                  readonly bytes: number;
                };
              };
              /** @description Whether the facts of its clips are read again. */
              readonly facts: boolean;
              /** @description Whether a new verdict follows. */
              readonly judgement: boolean;
              readonly sentence: string;
            }[];
            /** @description The steps over the whole shoot that are made again. */
            readonly shootSteps: readonly ('sync-grouping' | 'proxy-planning' | 'records')[];
            readonly sentence: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listVolumes: {
    readonly parameters: {
      readonly query?: {
        readonly recorder?: string;
        readonly standing?: 'settling' | 'settled' | 'empty' | 'unreadable' | 'gone';
        readonly connected?: 'true' | 'false';
        /** @description What to sort by, with a `-` from the highest down: isAway, key, label, recorder, seenAt, sizeInBytes; several with commas. */
        readonly sort?: string;
        /** @description Rows in one page; all when it is left out. */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly volumes: readonly {
              readonly key: string;
              /** @enum {string} */
              readonly basis: 'uuid' | 'serial' | 'label' | 'folder';
              readonly uuid: string | null;
              readonly serial: string | null;
              readonly label: string | null;
              readonly fileSystem: string;
              readonly capacityInBytes: number;
              /** @description Where it is mounted now; null while it is away. */
              readonly mountPath: string | null;
              /** @enum {string} */
              readonly standing: 'settling' | 'settled' | 'empty' | 'unreadable' | 'gone';
              readonly recorder: string | null;
              /** @description What an operator assigned it to; goes before what the configuration recognises. */
              readonly assigned: {
                readonly recorder: string;
                readonly shootId: string | null;
              } | null;
              readonly rollId: string | null;
              readonly fileCount: number;
              /** @description Bytes of the files on it. */
              readonly sizeInBytes: number;
              readonly litterCount: number;
              readonly why: string | null;
              /** Format: date-time */
              readonly seenAt: string;
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getVolume: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example exfat-1a2b-3c4d */
        readonly key: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly key: string;
            /** @enum {string} */
            readonly basis: 'uuid' | 'serial' | 'label' | 'folder';
            readonly uuid: string | null;
            readonly serial: string | null;
            readonly label: string | null;
            readonly fileSystem: string;
            readonly capacityInBytes: number;
            /** @description Where it is mounted now; null while it is away. */
            readonly mountPath: string | null;
            /** @enum {string} */
            readonly standing: 'settling' | 'settled' | 'empty' | 'unreadable' | 'gone';
            readonly recorder: string | null;
            /** @description What an operator assigned it to; goes before what the configuration recognises. */
            readonly assigned: {
              readonly recorder: string;
              readonly shootId: string | null;
            } | null;
            readonly rollId: string | null;
            readonly fileCount: number;
            /** @description Bytes of the files on it. */
            readonly sizeInBytes: number;
            readonly litterCount: number;
            readonly why: string | null;
            /** Format: date-time */
            readonly seenAt: string;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly assignVolume: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example exfat-1a2b-3c4d */
        readonly key: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody: {
      readonly content: {
        /**
         * @example {
         *       "recorder": "wheel",
         *       "shoot": "kiln-day"
         *     }
         */
        readonly 'application/json': {
          readonly recorder: string;
          readonly shoot?: string;
        };
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly key: string;
            /** @enum {string} */
            readonly basis: 'uuid' | 'serial' | 'label' | 'folder';
            readonly uuid: string | null;
            readonly serial: string | null;
            readonly label: string | null;
            readonly fileSystem: string;
            readonly capacityInBytes: number;
            /** @description Where it is mounted now; null while it is away. */
            readonly mountPath: string | null;
            /** @enum {string} */
            readonly standing: 'settling' | 'settled' | 'empty' | 'unreadable' | 'gone';
            readonly recorder: string | null;
            /** @description What an operator assigned it to; goes before what the configuration recognises. */
            readonly assigned: {
              readonly recorder: string;
              readonly shootId: string | null;
            } | null;
            readonly rollId: string | null;
            readonly fileCount: number;
            /** @description Bytes of the files on it. */
            readonly sizeInBytes: number;
            readonly litterCount: number;
            readonly why: string | null;
            /** Format: date-time */
            readonly seenAt: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getShootVerify: {
    readonly parameters: {
      readonly query: {
        /**
         * @description As the request was answered.
         * @example 2026-03-01T09:00:00.000Z
         */
        readonly since: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {string} */
            readonly kind: 'shoot' | 'destination';
            readonly id: string;
            /**
             * Format: date-time
             * @description What has been read since this moment counts.
             */
            readonly since: string;
            /** @description True while a drive is being taken in; nothing is read again until that is done. */
            readonly waitsForIntake: boolean;
            readonly isDone: boolean;
            /** @description Rolls, each at every destination that is meant. */
            readonly copies: number;
            readonly copiesDone: number;
            readonly bytes: number;
            readonly bytesDone: number;
            readonly bad: readonly {
              readonly rollId: string;
              readonly destination: string;
              readonly badFiles: number;
              /** @description True when all is proven there again. */
              readonly isMended: boolean;
            }[];
            /** @description What could not be read to the end, and why. */
            readonly unread: readonly {
              readonly rollId: string;
              readonly destination: string;
              readonly failure: {
                readonly code: string;
                readonly sentence: string;
                /** @enum {string} */
                readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
              };
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly verifyShoot: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example kiln-day */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {string} */
            readonly kind: 'shoot' | 'destination';
            readonly id: string;
            /**
             * Format: date-time
             * @description What has been read since this moment counts.
             */
            readonly since: string;
            /** @description True while a drive is being taken in; nothing is read again until that is done. */
            readonly waitsForIntake: boolean;
            readonly rolls: number;
            /** @description Each at every destination that is meant. */
            readonly files: number;
            readonly bytes: number;
            readonly sentence: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getDestinationVerify: {
    readonly parameters: {
      readonly query: {
        /**
         * @description As the request was answered.
         * @example 2026-03-01T09:00:00.000Z
         */
        readonly since: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example primary */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {string} */
            readonly kind: 'shoot' | 'destination';
            readonly id: string;
            /**
             * Format: date-time
             * @description What has been read since this moment counts.
             */
            readonly since: string;
            /** @description True while a drive is being taken in; nothing is read again until that is done. */
            readonly waitsForIntake: boolean;
            readonly isDone: boolean;
            /** @description Rolls, each at every destination that is meant. */
            readonly copies: number;
            readonly copiesDone: number;
            readonly bytes: number;
            readonly bytesDone: number;
            readonly bad: readonly {
              readonly rollId: string;
              readonly destination: string;
              readonly badFiles: number;
              /** @description True when all is proven there again. */
              readonly isMended: boolean;
            }[];
            /** @description What could not be read to the end, and why. */
            readonly unread: readonly {
              readonly rollId: string;
              readonly destination: string;
              readonly failure: {
                readonly code: string;
                readonly sentence: string;
                /** @enum {string} */
                readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
              };
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly verifyDestination: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
      };
      readonly path: {
        /** @example primary */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {string} */
            readonly kind: 'shoot' | 'destination';
            readonly id: string;
            /**
             * Format: date-time
             * @description What has been read since this moment counts.
             */
            readonly since: string;
            /** @description True while a drive is being taken in; nothing is read again until that is done. */
            readonly waitsForIntake: boolean;
            readonly rolls: number;
            /** @description Each at every destination that is meant. */
            readonly files: number;
            readonly bytes: number;
            readonly sentence: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listFindings: {
    readonly parameters: {
      readonly query?: {
        /** @example warning */
        readonly severity?: 'info' | 'warning' | 'critical';
        readonly code?: string;
        readonly shoot?: string;
        /** @description What to sort by, with a `-` from the highest down: severity, at, code, rollId; several with commas. */
        readonly sort?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly findings: readonly {
              readonly code: string;
              /** @enum {string} */
              readonly severity: 'info' | 'warning' | 'critical';
              readonly subject: {
                /** @enum {string} */
                readonly kind: 'service' | 'shoot' | 'volume' | 'roll' | 'clip' | 'destination';
                readonly id: string;
                readonly path?: string;
              };
              readonly why: string;
              readonly remedy: string;
              /** Format: date-time */
              readonly at: string;
              readonly rollId: string | null;
              readonly shootId: string | null;
            }[];
            readonly total: number;
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly streamEvents: {
    readonly parameters: {
      readonly query?: {
        /** @example 0 */
        readonly after?: string;
      };
      readonly header?: {
        /** @description The id of the last event that was received; the stream goes on after it. */
        readonly 'Last-Event-ID'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description A stream of events. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'text/event-stream': string;
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listEvents: {
    readonly parameters: {
      readonly query?: {
        /** @example 0 */
        readonly after?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly events: readonly {
              /** @enum {string} */
              readonly type:
                | 'volume.seen'
                | 'volume.settled'
                | 'volume.gone'
                | 'volume.assigned'
                | 'shoot.opened'
                | 'shoot.grouped'
                | 'shoot.planned'
                | 'shoot.approved'
                | 'shoot.held'
                | 'shoot.recorded'
                | 'shoot.renamed'
                | 'shoot.closed'
                | 'shoot.complete'
                | 'roll.listed'
                | 'roll.copied'
                | 'roll.verified'
                | 'roll.sealed'
                | 'roll.reread'
                | 'roll.interrupted'
                | 'roll.resumed'
                | 'roll.moved'
                | 'roll.clear'
                | 'roll.hold'
                | 'copy.bad'
                | 'copy.repaired'
                | 'destination.low'
                | 'destination.roomy'
                | 'service.started'
                | 'message.asked'
                | 'message.sent'
                | 'message.given-up'
                | 'finding.raised'
                | 'run.failed';
              /** Format: date-time */
              readonly at: string;
              readonly subject: string;
              readonly sentence: string;
              readonly data?: {
                readonly [key: string]: unknown;
              };
              readonly id: string;
            }[];
            readonly next: string;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getRebuild: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly rebuild: {
              readonly id: string;
              readonly shootId: string | null;
              /** Format: date-time */
              readonly askedAt: string;
              /** @enum {string} */
              readonly state: 'waiting' | 'running' | 'done' | 'failed';
              readonly endedAt: string | null;
              readonly report: {
                readonly sentence: string;
                readonly onRecord: number;
                readonly inView: number;
                readonly unsealed: number;
                readonly unread: readonly {
                  readonly destination: string;
                  readonly why: string;
                }[];
                readonly rolls: readonly {
                  readonly rollId: string;
                  readonly shootId: string;
                  readonly differences: readonly {
                    /** @enum {string} */
                    readonly kind: 'not-in-view' | 'not-on-record' | 'differs';
                    readonly sentence: string;
                  }[];
                  readonly tookOver: boolean;
                  readonly outcome: string;
                }[];
              } | null;
              readonly failure: {
                readonly code: string;
                readonly sentence: string;
                /** @enum {string} */
                readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
              } | null;
            } | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly startRebuild: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        /**
         * @example {
         *       "shootId": "kiln-day"
         *     }
         */
        readonly 'application/json': {
          /** @description This shoot only. */
          readonly shootId?: string;
        } | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly shootId: string | null;
            /** Format: date-time */
            readonly askedAt: string;
            /** @enum {string} */
            readonly state: 'waiting' | 'running' | 'done' | 'failed';
            readonly endedAt: string | null;
            readonly report: {
              readonly sentence: string;
              readonly onRecord: number;
              readonly inView: number;
              readonly unsealed: number;
              readonly unread: readonly {
                readonly destination: string;
                readonly why: string;
              }[];
              readonly rolls: readonly {
                readonly rollId: string;
                readonly shootId: string;
                readonly differences: readonly {
                  /** @enum {string} */
                  readonly kind: 'not-in-view' | 'not-on-record' | 'differs';
                  readonly sentence: string;
                }[];
                readonly tookOver: boolean;
                readonly outcome: string;
              }[];
            } | null;
            readonly failure: {
              readonly code: string;
              readonly sentence: string;
              /** @enum {string} */
              readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
            } | null;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listChannels: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly channels: readonly {
              readonly name: string;
              /** @enum {string} */
              readonly kind: 'email' | 'webhook' | 'command';
              readonly address: string;
              readonly waiting: number;
              readonly due: number;
              readonly lastSentAt: string | null;
              readonly failure: string | null;
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly testChannel: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
      };
      readonly path: {
        /** @example planning */
        readonly name: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly thread: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listDeliveries: {
    readonly parameters: {
      readonly query?: {
        readonly channel?: string;
        /** @example due */
        readonly state?: 'waiting' | 'due' | 'sent' | 'given-up' | 'superseded';
        readonly kind?:
          | 'drive.seen'
          | 'drive.pulled'
          | 'roll.clear'
          | 'roll.hold'
          | 'roll.finding'
          | 'copy.bad'
          | 'copy.repaired'
          | 'take.finding'
          | 'shoot.complete'
          | 'disk.low'
          | 'disk.roomy'
          | 'service.started'
          | 'channel.failed'
          | 'test';
        readonly severity?: 'info' | 'warning' | 'critical';
        readonly shoot?: string;
        readonly thread?: string;
        /** @example 50 */
        readonly limit?: number;
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly deliveries: readonly {
              readonly id: string;
              readonly channel: string;
              readonly letter: string;
              readonly thread: string;
              readonly number: number;
              readonly message: {
                /** @enum {string} */
                readonly kind:
                  | 'drive.seen'
                  | 'drive.pulled'
                  | 'roll.clear'
                  | 'roll.hold'
                  | 'roll.finding'
                  | 'copy.bad'
                  | 'copy.repaired'
                  | 'take.finding'
                  | 'shoot.complete'
                  | 'disk.low'
                  | 'disk.roomy'
                  | 'service.started'
                  | 'channel.failed'
                  | 'test';
                /** @enum {string} */
                readonly severity: 'info' | 'warning' | 'critical';
                readonly subject: string;
                readonly shootId: string | null;
                readonly recorder: string | null;
                readonly sentence: string;
                /** Format: date-time */
                readonly at: string;
              };
              /** @enum {string} */
              readonly state: 'waiting' | 'due' | 'sent' | 'given-up' | 'superseded';
              readonly dueAt: string | null;
              readonly tries: number;
              readonly failure: {
                readonly code: string;
                readonly sentence: string;
                /** Format: date-time */
                readonly at: string;
              } | null;
              readonly settledAt: string | null;
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getMetrics: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description Metrics. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'text/plain': string;
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listPlugins: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly plugins: readonly {
              readonly use: string;
              readonly isOn: boolean;
              readonly grants: readonly ('child-processes' | 'native-addons' | 'worker-threads' | 'network')[];
              readonly plugin: {
                readonly apiVersion: number;
                readonly name: string;
                readonly version: string;
                readonly description: string | null;
                readonly steps: readonly {
                  readonly name: string;
                  /** @enum {string} */
                  readonly scope: 'clip' | 'roll' | 'shoot';
                  readonly description: string | null;
                  readonly after: readonly (
                    | ('seal' | 'clearance' | 'probe' | 'sync-grouping' | 'proxy-planning' | 'records')
                    | string
                  )[];
                  readonly asks: readonly ('child-processes' | 'native-addons' | 'worker-threads' | 'network')[];
                  readonly secrets: readonly string[];
                  readonly limits: {
                    /** @default 600 */
                    readonly seconds: number;
                    /** @default 512 */
                    readonly memoryMb: number;
                    /** @default 4096 */
                    readonly programsMb: number;
                    /** @default 1024 */
                    readonly outputMb: number;
                    /** @default 1 */
                    readonly parallel: number;
                  };
                  /** @default false */
                  readonly makesWay: boolean;
                }[];
              } | null;
              readonly failure: {
                readonly code: string;
                readonly sentence: string;
                /** @enum {string} */
                readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
              } | null;
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listSteps: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly steps: readonly {
              /** @description The full name: `<plugin>/<step>`, or that of a built-in step. */
              readonly name: string;
              /** @description Null for a built-in step. */
              readonly plugin: string | null;
              /** @enum {string} */
              readonly scope: 'clip' | 'roll' | 'shoot';
              readonly after: readonly string[];
              readonly description: string | null;
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listRuns: {
    readonly parameters: {
      readonly query?: {
        /** @description What to sort by, with a `-` from the highest down: startedAt, step, state, tookMs; several with commas. */
        readonly sort?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @example kiln-day */
        readonly shoot?: string;
        /** @description The full name of a step, `<plugin>/<step>`. */
        readonly step?: string;
        /**
         * @description `waiting` also gives runs that were made and wait to be made again.
         * @example failed
         */
        readonly state?: 'waiting' | 'running' | 'done' | 'skipped' | 'failed' | 'cancelled';
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly runs: readonly {
              readonly id: string;
              readonly step: string;
              readonly version: string;
              readonly subject: {
                /** @enum {string} */
                readonly kind: 'clip' | 'roll' | 'shoot';
                readonly id: string;
              };
              readonly shootId: string;
              readonly rollId: string | null;
              /** @enum {string} */
              readonly state: 'waiting' | 'running' | 'done' | 'skipped' | 'failed' | 'cancelled';
              readonly why: string;
              readonly fingerprint: {
                readonly version: string;
                readonly config: string;
                readonly subject: string;
                readonly outputs: string;
              };
              readonly tries: number;
              readonly failure: {
                readonly code: string;
                readonly sentence: string;
                /** @enum {string} */
                readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
              } | null;
              readonly outputDigest: string;
              readonly findings: readonly {
                readonly code: string;
                /** @enum {string} */
                readonly severity: 'info' | 'warning' | 'critical';
                readonly subject: {
                  /** @enum {string} */
                  readonly kind: 'service' | 'shoot' | 'volume' | 'roll' | 'clip' | 'destination';
                  readonly id: string;
                  readonly path?: string;
                };
                readonly why: string;
                readonly remedy: string;
                /** Format: date-time */
                readonly at: string;
              }[];
              readonly filed: {
                readonly destination: string;
                readonly folder: string;
                readonly alsoAt: readonly string[];
              } | null;
              readonly progress: {
                readonly fraction: number;
                readonly text: string | null;
                readonly secondsLeft: number | null;
                readonly isHeldUp?: boolean;
              } | null;
              readonly startedAt: string | null;
              readonly endedAt: string | null;
              readonly tookMs: number | null;
              readonly heldUpMs?: number;
              readonly isRecognised?: boolean;
              /** @description What its next run waits for, and from when it may be made where that is known. */
              readonly waits: {
                readonly why: string;
                readonly notBefore: string | null;
              } | null;
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getRun: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example 00000000000000a1 */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly step: string;
            readonly version: string;
            readonly subject: {
              /** @enum {string} */
              readonly kind: 'clip' | 'roll' | 'shoot';
              readonly id: string;
            };
            readonly shootId: string;
            readonly rollId: string | null;
            /** @enum {string} */
            readonly state: 'waiting' | 'running' | 'done' | 'skipped' | 'failed' | 'cancelled';
            readonly why: string;
            readonly fingerprint: {
              readonly version: string;
              readonly config: string;
              readonly subject: string;
              readonly outputs: string;
            };
            readonly tries: number;
            readonly failure: {
              readonly code: string;
              readonly sentence: string;
              /** @enum {string} */
              readonly retry: 'never' | 'later' | 'source' | 'destination' | 'copy';
            } | null;
            readonly outputDigest: string;
            readonly findings: readonly {
              readonly code: string;
              /** @enum {string} */
              readonly severity: 'info' | 'warning' | 'critical';
              readonly subject: {
                /** @enum {string} */
                readonly kind: 'service' | 'shoot' | 'volume' | 'roll' | 'clip' | 'destination';
                readonly id: string;
                readonly path?: string;
              };
              readonly why: string;
              readonly remedy: string;
              /** Format: date-time */
              readonly at: string;
            }[];
            readonly filed: {
              readonly destination: string;
              readonly folder: string;
              readonly alsoAt: readonly string[];
            } | null;
            readonly progress: {
              readonly fraction: number;
              readonly text: string | null;
              readonly secondsLeft: number | null;
              readonly isHeldUp?: boolean;
            } | null;
            readonly startedAt: string | null;
            readonly endedAt: string | null;
            readonly tookMs: number | null;
            readonly heldUpMs?: number;
            readonly isRecognised?: boolean;
            /** @description What the step gave, as JSON. */
            readonly output: unknown;
            readonly files: readonly {
              readonly path: string;
              readonly sizeInBytes: number;
              readonly xxh128: string;
            }[];
            readonly log: {
              readonly head: readonly {
                /** Format: date-time */
                readonly at: string;
                /** @enum {string} */
                readonly level: 'info' | 'warn' | 'error' | 'out';
                readonly text: string;
              }[];
              readonly droppedLines: number;
              readonly tail: readonly {
                /** Format: date-time */
                readonly at: string;
                /** @enum {string} */
                readonly level: 'info' | 'warn' | 'error' | 'out';
                readonly text: string;
              }[];
            };
            /** @description What its next run waits for, and from when it may be made where that is known. */
            readonly waits: {
              readonly why: string;
              readonly notBefore: string | null;
            } | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly cancelRun: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example 00000000000000a3 */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            /** @enum {string} */
            readonly order: 'cancel' | 'skip';
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly skipRun: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example 00000000000000a1 */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was taken on; what comes of it shows in the state, and in the events. */
      readonly 202: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            /** @enum {string} */
            readonly order: 'cancel' | 'skip';
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listChanges: {
    readonly parameters: {
      readonly query?: {
        /** @description Only those that this one says to have asked for. */
        readonly by?: string;
        /** @description Only those whose method and path hold this. */
        readonly action?: string;
        /** @description What to sort by, with a `-` from the highest down: at; several with commas. */
        readonly sort?: string;
        /** @example 50 */
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly entries: readonly {
              /** Format: date-time */
              readonly at: string;
              readonly by: string;
              readonly action: string;
              /** @description What was sent with it, as JSON. */
              readonly body: unknown;
              readonly status: number;
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listTokens: {
    readonly parameters: {
      readonly query?: {
        /** @example good */
        readonly state?: 'good' | 'expired' | 'revoked';
        /**
         * @description What to sort by, with a `-` from the highest down: madeAt, expiresAt, name, scope; several with commas.
         * @example -madeAt
         */
        readonly sort?: string;
        readonly limit?: number;
        /** @description The `next` of the page before, under the same `sort`. */
        readonly cursor?: string;
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly tokens: readonly {
              readonly id: string;
              readonly name: string;
              /** @enum {string} */
              readonly scope: 'read' | 'operate' | 'admin';
              /** Format: date-time */
              readonly madeAt: string;
              readonly expiresAt: string | null;
              readonly revokedAt: string | null;
              /** @enum {string} */
              readonly state: 'good' | 'expired' | 'revoked';
            }[];
            readonly next: string | null;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly makeToken: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody: {
      readonly content: {
        /**
         * @example {
         *       "name": "wall screen",
         *       "scope": "read",
         *       "days": 90
         *     }
         */
        readonly 'application/json': {
          /** @description Whom or what it is for. */
          readonly name: string;
          /** @enum {string} */
          readonly scope: 'read' | 'operate' | 'admin';
          /** @description Until when it counts; for ever when left out. */
          readonly days?: number;
        };
      };
    };
    readonly responses: {
      /** @description It was made. */
      readonly 201: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly name: string;
            /** @enum {string} */
            readonly scope: 'read' | 'operate' | 'admin';
            /** Format: date-time */
            readonly madeAt: string;
            readonly expiresAt: string | null;
            readonly revokedAt: string | null;
            /** @enum {string} */
            readonly state: 'good' | 'expired' | 'revoked';
            readonly token: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getToken: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example wallpage */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly name: string;
            /** @enum {string} */
            readonly scope: 'read' | 'operate' | 'admin';
            /** Format: date-time */
            readonly madeAt: string;
            readonly expiresAt: string | null;
            readonly revokedAt: string | null;
            /** @enum {string} */
            readonly state: 'good' | 'expired' | 'revoked';
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly revokeToken: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
        /** @description The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412. */
        readonly 'If-Match'?: string;
      };
      readonly path: {
        /** @example oldphone */
        readonly id: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly id: string;
            readonly name: string;
            /** @enum {string} */
            readonly scope: 'read' | 'operate' | 'admin';
            /** Format: date-time */
            readonly madeAt: string;
            readonly expiresAt: string | null;
            readonly revokedAt: string | null;
            /** @enum {string} */
            readonly state: 'good' | 'expired' | 'revoked';
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getConfiguration: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @description By the keys of the configuration file, which `quayside config --schema` describes. */
            readonly configuration: {
              readonly [key: string]: unknown;
            };
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly signIn: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: {
      readonly content: {
        readonly 'application/json': Record<string, never> | null;
      };
    };
    readonly responses: {
      /** @description It was made. */
      readonly 201: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly key: string;
            /** Format: date-time */
            readonly until: string;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly signOut: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description Who asks, for the record of changes. */
        readonly 'Quayside-Operator'?: string;
        /** @description The same request under the same key is carried out once, and answered the same for a day. */
        readonly 'Idempotency-Key'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            /** @enum {boolean} */
            readonly signedIn: false;
          };
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getProblemKind: {
    readonly parameters: {
      readonly query?: never;
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example roll-unknown */
        readonly code:
          | 'bad-request'
          | 'token-needed'
          | 'scope-needed'
          | 'nothing-here'
          | 'roll-unknown'
          | 'shoot-unknown'
          | 'volume-unknown'
          | 'destination-unknown'
          | 'finding-unknown'
          | 'plan-not-there'
          | 'plan-moved-on'
          | 'plan-not-approved'
          | 'proxy-not-planned'
          | 'token-unknown'
          | 'channel-unknown'
          | 'record-unknown'
          | 'run-unknown'
          | 'run-not-failed'
          | 'run-not-under-way'
          | 'run-under-way'
          | 'rebuild-under-way'
          | 'shoot-exists'
          | 'roll-sealed'
          | 'roll-moving'
          | 'drive-away'
          | 'still-answering'
          | 'key-reused'
          | 'changed-since'
          | 'too-large'
          | 'not-json'
          | 'foreign-host'
          | 'invalid-body'
          | 'too-many-requests'
          | 'not-servable'
          | 'unexpected'
          | 'worker-away'
          | 'store-away';
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly type: string;
            readonly status: number;
            readonly title: string;
            readonly explanation: string;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly listCodes: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path?: never;
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly codes: readonly {
              readonly code: string;
              readonly meaning: string;
              readonly remedy: string;
            }[];
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
  readonly getCode: {
    readonly parameters: {
      readonly query?: {
        /** @description Only these properties, with commas between; others are left out, also such as the schema requires. */
        readonly fields?: string;
      };
      readonly header?: {
        /** @description The ETag of an answer that you have; when it still holds, the answer is 304 and empty. */
        readonly 'If-None-Match'?: string;
      };
      readonly path: {
        /** @example ONE_DEVICE */
        readonly code: string;
      };
      readonly cookie?: never;
    };
    readonly requestBody?: never;
    readonly responses: {
      /** @description The answer. */
      readonly 200: {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/json': {
            readonly code: string;
            readonly meaning: string;
            readonly remedy: string;
          };
        };
      };
      /** @description It is as it was under the entity tag that was sent; the answer is empty. */
      readonly 304: {
        headers: {
          readonly [name: string]: unknown;
        };
        content?: never;
      };
      /** @description A problem document (RFC 9457). */
      readonly '4XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
      /** @description A problem document (RFC 9457). */
      readonly '5XX': {
        headers: {
          readonly [name: string]: unknown;
        };
        content: {
          readonly 'application/problem+json': components['schemas']['Problem'];
        };
      };
    };
  };
}
