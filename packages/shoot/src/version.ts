/** The version of Quayside, as the API, the command and every manifest tell it. */
export const VERSION = '0.1.0';
