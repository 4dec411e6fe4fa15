/** The versions of the contract that this host runs: the present one, and the one before it once there is one. */
export const API_VERSIONS: readonly unknown[] = [1];
