/**
 * What the runtime cannot fence, so that a step must ask for it and the operator grant it by name. What each one exposes
 * stands in the README: whoever is granted `child-processes` or `native-addons` can do all that the service's user can.
 */
export const GRANTS = ['child-processes', 'native-addons', 'worker-threads', 'network'] as const;
export type Grant = (typeof GRANTS)[number];
