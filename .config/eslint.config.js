import tseslint from 'typescript-eslint';
import prettier from 'eslint-config-prettier';
import { programs } from './programs-rule.js';
import { rooms } from './rooms.js';
import { texts } from './texts-rule.js';

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', 'reports/', 'sample-clips/', '.cache/', '.config/'] },
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
    },
  },
  prettier,
);
