// The page's modules as TypeScript reads their JSDoc, strictly.
// usage: node types.mjs FOLDER
// prints {problems: [text], notes: {files}}
import fs from 'node:fs';
import path from 'node:path';
import { answer, need } from '../../testdata/peer/need.mjs';

const ts = need('typescript');
const folder = process.argv[2];
const files = fs.readdirSync(folder).filter((f) => f.endsWith('.js')).map((f) => path.join(folder, f));
const program = ts.createProgram(files, {
  allowJs: true, checkJs: true, noEmit: true, strict: true, target: ts.ScriptTarget.ESNext, module: ts.ModuleKind.ESNext,
  moduleResolution: ts.ModuleResolutionKind.Bundler, lib: ['lib.esnext.d.ts', 'lib.dom.d.ts', 'lib.dom.iterable.d.ts'], types: [],
});
const problems = ts.getPreEmitDiagnostics(program).map((d) => {
  const at = d.file?.getLineAndCharacterOfPosition(d.start ?? 0);
  return `${d.file ? path.basename(d.file.fileName) : ''} ${at ? at.line + 1 : ''}: ${ts.flattenDiagnosticMessageText(d.messageText, ' ')}`;
});
answer({ problems, notes: { files: files.length } });
