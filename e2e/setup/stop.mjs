/** Nothing more can be done without a person. The message says what is wrong and what to do. */
export class Stop extends Error {
  name = 'Stop';
}
