/** Words of the frame of the report page: its head line, its links, the headings of its own parts, the reasons. */

/** Words of the page's frame. */
export const pageTexts = {
  kind: 'Trundle test pass report',
  title: (verdict: string, clip: string): string => `${verdict}: ${clip}`,
  stretch: (from: string, to: string): string => `${from} to ${to}`,
  lens: (focalLengthMm: number): string => `${focalLengthMm} mm lens`,
  noLens: 'lens not given',
  /** What the sheet calls the pass; empty where it says nothing. */
  passName: (sheet: {
    readonly slate?: string | undefined;
    readonly take?: string | undefined;
    readonly setup?: string | undefined;
    readonly passNumber?: string | undefined;
  }): string =>
    [
      sheet.slate === undefined ? null : `slate ${sheet.slate}`,
      sheet.take === undefined ? null : `take ${sheet.take}`,
      sheet.setup,
      sheet.passNumber === undefined ? null : `pass ${sheet.passNumber}`,
    ]
      .filter((part) => part !== null && part !== undefined)
      .join(', '),
  skip: 'Skip to the sections',
  contents: 'Sections of this report',
  unmeasured:
    'The figures of this clip cannot be trusted, so they are not shown here. What was computed is in run.json, motion.csv and spectrum.csv.',
  reasons: 'Why',
  reasonsCaption: 'What decided, worst first',
  reasonHeads: ['Reason', 'Measured', '95 % range', 'Limit', 'Room left'],
  /** Value, range, limit and room of one reason, in one line. */
  reasonInLine: (value: string, range: string | null, limit: string, room: string | null): string =>
    `${range === null ? value : `${value} (${range})`}, limit ${limit}${room === null ? '' : `, room ${room}`}`,
  /** Nothing to print in a cell. */
  none: '–',
} as const;
