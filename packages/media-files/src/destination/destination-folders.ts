/**
 * Where our own things lie at a destination, below its root. Staging is safe to delete when idle, and so is the ledger, which
 * proves what is there: it is then proven anew. What is set aside is for a person to look at and to delete, never for us.
 */
export const PRIVATE_FOLDER = '.quayside';
export const STAGING_FOLDER = `${PRIVATE_FOLDER}/staging`;
export const LEDGER_FOLDER = `${PRIVATE_FOLDER}/ledger`;
export const SET_ASIDE_FOLDER = `${PRIVATE_FOLDER}/set-aside`;
