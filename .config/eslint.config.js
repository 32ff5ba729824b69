import tseslint from 'typescript-eslint';
import prettier from 'eslint-config-prettier';
import { programs } from './programs-rule.js';
import { rooms } from './rooms.js';
import { texts } from './texts-rule.js';

export default tseslint.config(
  {
    ignores: [
      ...['dist/', 'node_modules/', 'reports/', 'sample-clips/', '.cache/', '.config/'],
      // Another dialect, and what is compiled from it.
      ...['src/**/*.as.ts', 'src/**/assembly/', 'src/**/*-code.ts'],
      // Plain JavaScript, so that no loader is timed with it; without types there is nothing for the rules to hold on to.
      'tests/bench/clips/first-frame.mjs',
    ],
  },
  ...tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: { parserOptions: { projectService: true } },
    plugins: { trundle: { rules: { programs, rooms, texts } } },
    rules: {
      'trundle/programs': 'error',
      'trundle/rooms': 'error',
      'trundle/texts': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/restrict-template-expressions': [
        'error',
        { allowNumber: true, allowBoolean: true },
      ],
      'no-console': 'error',
      'no-eval': 'error',
      'no-new-func': 'error',
      '@typescript-eslint/no-implied-eval': 'error',
      eqeqeq: 'error',
      'no-restricted-syntax': [
        'error',
        ...[
          "JSXAttribute[name.name='dangerouslySetInnerHTML']",
          'AssignmentExpression[left.property.name=/^(innerHTML|outerHTML|srcdoc)$/]',
          'CallExpression[callee.property.name=/^(insertAdjacentHTML|createContextualFragment|setHTMLUnsafe)$/]',
          "CallExpression[callee.object.name='document'][callee.property.name=/^write(ln)?$/]",
        ].map((selector) => ({
          selector,
          message:
            'Markup made of text may run: the files that put in charts of our own are listed in .config/eslint.config.js.',
        })),
      ],
    },
  },
  {
    // They put in SVG of src/report/charts/ and markup of reportParts(), in which all that comes from outside is escaped.
    files: [
      'src/report/page-script/live-chart.ts',
      'src/web/page/parts/{server-markup,grade-mark}.tsx',
      'src/web/page/what-if/live-curve.tsx',
    ],
    rules: { 'no-restricted-syntax': 'off' },
  },
  prettier,
);
