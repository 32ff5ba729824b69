/** Sentences of the server behind the local page: failures in plain words. */
export const serverTexts = {
  /** Of each status that is told, RFC 9110. */
  titles: {
    400: 'Not understood',
    401: 'No access',
    403: 'Not allowed',
    404: 'Not there',
    405: 'Not possible that way',
    408: 'Too slow',
    409: 'Not possible now',
    413: 'Too large',
    415: 'Not a clip',
    422: 'Cannot be done',
    431: 'Too long',
    500: 'A fault of the program',
    503: 'Not at the moment',
    507: 'No room to write',
  },
  tokenMissing:
    'This page needs its access token: open the whole address that was printed in the terminal when it was started.',
  notThere: 'There is nothing at this address.',
  methodUnknown: 'This address cannot be asked that way.',
  bodyTooLarge: 'That is more than an order or a change may hold.',
  notJson: 'An order or a change is sent as application/json.',
  tooSlow: 'The request did not come to its end in time; try again.',
  headTooLarge: 'The address or the headers of the request are too long.',
  unreadable: 'This is no request that can be read.',
  tooManyPages: 'So many pages are open that no more are told what happens; close some.',
  diskFull: 'The disk of the program is full; remove runs or files, then try again.',
  diskBarred:
    'The disk of the program did not let it read or write; check that it is there and that the data folder may be written to.',
  filesOpen: 'So many files are open that no more can be; wait a moment, then try again.',
  needsScript: 'This page needs its script; allow scripts for this address.',
  fault: 'A fault of the program, not of your clip; look at the terminal where it was started.',
} as const;
