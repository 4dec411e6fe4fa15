export interface ProblemKind {
  readonly status: number;
  /** The same for every occurrence (RFC 9457, section 3.1.3). */
  readonly title: string;
  /** What a person who looks the problem up should know and do. */
  readonly explanation: string;
}

/** Every kind of problem that the API answers with, by the last part of its `type`. Codes are never reused. */
export const PROBLEM_KINDS = {
  'bad-request': {
    status: 400,
    title: 'The request cannot be understood',
    explanation:
      'The address, a query value or the JSON of the body is malformed. `errors` names the value. Correct it.',
  },
  'token-needed': {
    status: 401,
    title: 'A token is needed',
    explanation:
      'Send `Authorization: Bearer TOKEN` with the content of the file `token` in the data folder of the service. Only the user that runs the service may read that file.',
  },
  'scope-needed': {
    status: 403,
    title: 'The token does not allow that',
    explanation:
      'Tokens are of scope `read`, `operate` or `admin`, and each allows what the ones before it allow. Make one with `quayside token make --scope SCOPE`.',
  },
  'nothing-here': {
    status: 404,
    title: 'There is nothing at this address',
    explanation: 'The path or the method is not one of the API. `/openapi.json` lists them all.',
  },
  'roll-unknown': {
    status: 404,
    title: 'There is no such roll',
    explanation: 'The service knows no roll of that id. `GET /v1/rolls` lists those it knows.',
  },
  'shoot-unknown': {
    status: 404,
    title: 'There is no such shoot',
    explanation: 'The service knows no shoot of that id. `GET /v1/shoots` lists them; `POST /v1/shoots` opens one.',
  },
  'volume-unknown': {
    status: 404,
    title: 'There is no such volume',
    explanation: 'The service has seen no volume of that key. `GET /v1/volumes` lists those it has seen.',
  },
  'destination-unknown': {
    status: 404,
    title: 'There is no such destination',
    explanation: 'The configuration names no destination so. `quayside config` prints those it names.',
  },
  'finding-unknown': {
    status: 404,
    title: 'There is no such finding',
    explanation:
      'The shoot has no finding of that id, or has it no longer. `GET /v1/shoots/{id}/findings` lists those it has.',
  },
  'plan-not-there': {
    status: 409,
    title: 'There is no plan of proxies',
    explanation:
      'A plan is made when the facts of the first drive are known, unless `proxies.plan` is off. `GET /v1/shoots/{id}/proxies` shows it.',
  },
  'plan-moved-on': {
    status: 409,
    title: 'The plan of proxies is another one by now',
    explanation: 'Look at the newest plan, `GET /v1/shoots/{id}/proxies`, and approve that one.',
  },
  'plan-not-approved': {
    status: 409,
    title: 'The plan of proxies is not approved',
    explanation: 'Approve it first: `POST /v1/shoots/{id}/proxies/approve`, or `quayside proxies approve`.',
  },
  'proxy-not-planned': {
    status: 409,
    title: 'The plan has no proxy of that clip',
    explanation:
      'The plan says of each clip why: no rule asks for one, there is no room, or its facts do not allow for it. Change the rules or the budget under `proxies`.',
  },
  'token-unknown': {
    status: 404,
    title: 'There is no such token',
    explanation: 'No token of that id was made here. `GET /v1/tokens` lists those that were.',
  },
  'channel-unknown': {
    status: 404,
    title: 'There is no such channel',
    explanation:
      'The configuration has no channel of that name. `GET /v1/channels` lists those it has; a new one counts after a restart.',
  },
  'record-unknown': {
    status: 404,
    title: 'There is no such record',
    explanation:
      'No destination that is there holds that file. `GET /v1/shoots/{id}/records` lists the records of a shoot; they are written once something of it is sealed.',
  },
  'run-unknown': {
    status: 404,
    title: 'There is no such run',
    explanation:
      'No roll or shoot that the service knows has a run of that id which could be tried again. `GET /v1/rolls/{id}` names those that failed; the event `run.failed` and the log do too. `GET /v1/runs` lists those of plugins.',
  },
  'run-not-failed': {
    status: 409,
    title: 'The run has not failed',
    explanation: 'It went well, or was tried again since, which is another run. There is nothing to do.',
  },
  'run-not-under-way': {
    status: 409,
    title: 'The run is not under way',
    explanation:
      'Only a run that is being made can be stopped. One that rests can be left out, or tried again if it failed.',
  },
  'run-under-way': {
    status: 409,
    title: 'The run is under way',
    explanation: 'It waits for its turn or is being made. Only a run that failed can be tried again.',
  },
  'rebuild-under-way': {
    status: 409,
    title: 'The view is being remade already',
    explanation: 'One remaking at a time. `GET /v1/rebuild` tells when it is done; ask again then.',
  },
  'shoot-exists': {
    status: 409,
    title: 'A shoot of that name exists',
    explanation: 'The id made from the name is taken. Use that shoot, or choose another name.',
  },
  'roll-sealed': {
    status: 409,
    title: 'The roll is sealed',
    explanation:
      'Its manifests are written where it lies, so it stays there. Only a roll without a manifest can be moved.',
  },
  'roll-moving': {
    status: 409,
    title: 'The roll is being moved',
    explanation: 'It is on its way to another shoot. Wait until it has arrived, then move it again.',
  },
  'drive-away': {
    status: 409,
    title: 'The drive is not there',
    explanation: 'A roll is judged against its drive. Connect the drive; it is then judged by itself.',
  },
  'still-answering': {
    status: 409,
    title: 'The same request is still being carried out',
    explanation: 'A request under this idempotency key came a moment ago and is not answered yet. Ask again shortly.',
  },
  'key-reused': {
    status: 422,
    title: 'The idempotency key belongs to another request',
    explanation: 'A key stands for one request, for a day. Make a new random key for each request.',
  },
  'changed-since': {
    status: 412,
    title: 'It is not as you saw it any more',
    explanation:
      'The request was to count only while the thing still has the entity tag of `If-Match`, and it has another one by now. Look again, and decide again.',
  },
  'too-large': {
    status: 413,
    title: 'The body is too large',
    explanation: 'No request of this API needs more than 16 KiB.',
  },
  'not-json': {
    status: 415,
    title: 'The body is not JSON',
    explanation: 'Send the body as JSON with `Content-Type: application/json`.',
  },
  'foreign-host': {
    status: 421,
    title: 'The API does not answer under that host name',
    explanation:
      'It answers to 127.0.0.1, localhost and [::1] only, so that no web page can reach it through a name of its own.',
  },
  'invalid-body': {
    status: 422,
    title: 'The body is not acceptable',
    explanation: 'The JSON was read, but a value in it cannot be used. `errors` points at each such value.',
  },
  'too-many-requests': {
    status: 429,
    title: 'The token has made too many requests',
    explanation:
      'Each token may make `api.requestsPerMinute` requests in a minute (see the configuration). The headers RateLimit-Remaining and RateLimit-Reset say what is left and for how many seconds, Retry-After when to ask again.',
  },
  'not-servable': {
    status: 400,
    title: 'The request cannot be served',
    explanation: 'The request broke a rule of HTTP or of this server; `detail` says which.',
  },
  unexpected: {
    status: 500,
    title: 'Something unforeseen went wrong',
    explanation: 'The log of the service has the details under the id given as `instance`.',
  },
  'worker-away': {
    status: 503,
    title: 'The worker does not run',
    explanation:
      'What was asked for is the work of the worker, which gives no sign of life. The service starts it again by itself; `GET /v1/health` tells when it is back.',
  },
  'store-away': {
    status: 503,
    title: 'Redis does not answer',
    explanation:
      'The fast view of all rolls lies in Redis, which cannot be reached now. The footage and its proof lie beside each other on the destinations and are not affected. Try again in a moment; no drive may be recorded over meanwhile.',
  },
} as const satisfies Record<string, ProblemKind>;

export type ProblemCode = keyof typeof PROBLEM_KINDS;
