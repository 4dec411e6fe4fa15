/** The version that the API and the command tell. */
export const VERSION = '0.1.0';
