/** Text that somebody writes into a name or a note so that something happens to whoever reads it. */

/** Ends whatever it may stand in, then runs, asks the network, and steers a terminal and the order of letters. */
export const HOSTILE =
  '</script></style></title></svg><img src="http://127.0.0.1:9/x" onerror="window.ran=1"><script>window.ran=1</script>' +
  '" onmouseover="window.ran=1" \' onfocus=\'window.ran=1\' autofocus ]]>--> &#60;b&#62; javascript:window.ran=1 ${window.ran=1}' +
  ' \u2028\u2029\u0000\u202egpj.\u009b2J\u001b]8;;http://x\u0007\u001b[2J';

/** Names of fields that hold what people wrote, though it may be a single word. */
const WRITTEN = new Set([
  ...[
    'file',
    'clip',
    'clipFile',
    'place',
    'floor',
    'lane',
    'setup',
    'wheels',
    'track',
    'location',
    'production',
    'operator',
    'unit',
  ],
  ...[
    'roll',
    'slate',
    'take',
    'notes',
    'tags',
    'text',
    'label',
    'title',
    'words',
    'codec',
    'pixelFormat',
    'version',
    'commit',
  ],
]);

/**
 * A copy of plain data in which all prose, and every name that somebody wrote, ends in hostile text.
 * @param keep fields that hold words of ours by which something is looked up
 */
export function spoiled<T>(value: T, keep: readonly string[] = [], key = ''): T {
  if (typeof value === 'string')
    return (WRITTEN.has(key) || /[a-z] [a-z]/i.test(value) ? `${value} ${HOSTILE}` : value) as T;
  if (Array.isArray(value)) return value.map((one: unknown) => spoiled(one, keep, key)) as T;
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, one]) => [
      name,
      keep.includes(name) ? (one as unknown) : spoiled(one as unknown, keep, name),
    ]),
  ) as T;
}
