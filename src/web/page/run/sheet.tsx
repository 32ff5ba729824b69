/** The sheet of a pass as it stands, to read; it is written in the log. */
import { timecodeAt } from '../../../report/in-browser.js';
import type { PassSheet, RunDocument } from '../../../run/index.js';
import { runSheetTexts } from '../../../texts/index.js';
import { whenWords } from '../log/run-words.js';
import { Link } from '../parts/link.js';

type Entry = keyof typeof runSheetTexts.names;

const ENTRIES = Object.keys(runSheetTexts.names) as Entry[];

/** The sheet. @param pass as it stands now, which may be other than when the run was measured */
export function Sheet({
  id,
  pass,
  run,
}: {
  readonly id: number;
  readonly pass: PassSheet;
  readonly run: RunDocument;
}) {
  const written = ENTRIES.flatMap((name): [string, string][] => {
    const value = wordsOf(pass, name);
    return value === null ? [] : [[runSheetTexts.names[name], value]];
  });
  const { clip, createdAt } = run;
  const [from, to] = clip.rangeS.map((atS) => timecodeAt(clip, atS));
  return (
    <section class="run-sheet" aria-labelledby="sheet">
      <h2 id="sheet">{runSheetTexts.title}</h2>
      <dl>
        {written.map(([name, value]) => (
          <Line key={name} name={name} value={value} />
        ))}
        {pass.tags !== undefined && pass.tags.length > 0 && (
          <Line name={runSheetTexts.tags} value={pass.tags.join(', ')} />
        )}
        <Line name={runSheetTexts.stretch} value={runSheetTexts.range(from, to)} />
        <Line name={runSheetTexts.measured} value={whenWords({ createdAt })} />
      </dl>
      {written.length === 0 && <p class="muted">{runSheetTexts.none}</p>}
      <Link class="button" href={`/log?run=${id}`}>
        {runSheetTexts.edit}
      </Link>
    </section>
  );
}

function Line({ name, value }: { readonly name: string; readonly value: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </div>
  );
}

function wordsOf(pass: PassSheet, name: Entry): string | null {
  switch (name) {
    case 'mark':
      return pass.mark === undefined ? null : runSheetTexts.marks[pass.mark];
    case 'direction':
      return pass.direction === undefined ? null : runSheetTexts.directions[pass.direction];
    default:
      return pass[name] === undefined ? null : String(pass[name]);
  }
}
