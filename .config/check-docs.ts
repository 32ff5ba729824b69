/** Fails when an exported name under src/ has no doc comment, or a file has no opening sentence. */
import fs from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

const root = path.resolve(import.meta.dirname, '../src');
const faults: string[] = [];

function visit(file: string): void {
  const text = fs.readFileSync(file, 'utf8');
  const relative = path.relative(path.dirname(root), file);
  if (!/^(#!.*\n)?\/\*\*/.test(text))
    faults.push(`${relative}: the file does not open with a sentence on what it does`);
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.ES2022, true);
  let first = true;
  for (const statement of source.statements) {
    const exported =
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some((m) => m.kind === ts.SyntaxKind.ExportKeyword);
    const documentable =
      ts.isFunctionDeclaration(statement) ||
      ts.isClassDeclaration(statement) ||
      ts.isInterfaceDeclaration(statement);
    if (exported && documentable) {
      const comments = ts.getLeadingCommentRanges(text, statement.getFullStart()) ?? [];
      const docs = comments.filter((c) => text.startsWith('/**', c.pos));
      // The opening sentence of the file does not count for its first export.
      if (docs.length < (first ? 2 : 1))
        faults.push(`${relative}: ${statement.name?.text ?? 'default export'} has no doc comment`);
    }
    first = false;
  }
}

for (const entry of fs.readdirSync(root, { recursive: true, withFileTypes: true })) {
  if (entry.isFile() && /\.tsx?$/.test(entry.name)) visit(path.join(entry.parentPath, entry.name));
}
if (faults.length > 0) {
  process.stderr.write(`${faults.join('\n')}\n${faults.length} doc faults\n`);
  process.exit(1);
}
