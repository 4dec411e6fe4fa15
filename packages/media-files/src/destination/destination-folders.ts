/** Where our own things lie at a destination, below its root. Safe to delete when idle, except that the ledger proves what is there. */
export const PRIVATE_FOLDER = '.quayside';
export const STAGING_FOLDER = `${PRIVATE_FOLDER}/staging`;
export const LEDGER_FOLDER = `${PRIVATE_FOLDER}/ledger`;
