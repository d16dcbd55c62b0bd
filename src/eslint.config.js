import solid from 'eslint-plugin-solid';
import { defineConfig, globalIgnores } from 'eslint/config';
import tseslint from 'typescript-eslint';

export default defineConfig([
  globalIgnores(['dist/', '.cache/', 'node_modules/']),
  tseslint.configs.recommended,
  { rules: { '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }] } },
  {
    // What only the types can tell. Configurations stand outside the projects of the compiler.
    files: ['**/*.ts', '**/*.tsx'],
    ignores: ['**/*.config.ts'],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: `${import.meta.dirname}/..` } },
    rules: {
      // A promise that nobody waits for fails without a word. `void` is for the action of a touch or of a message alone,
      // which shows its own failures and has nobody to hand them to.
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': 'error',
      '@typescript-eslint/await-thenable': 'error',
      '@typescript-eslint/return-await': ['error', 'error-handling-correctness-only'],
      '@typescript-eslint/only-throw-error': 'error',
      // What was caught may be handed on as it is.
      '@typescript-eslint/prefer-promise-reject-errors': ['error', { allowThrowingUnknown: true }],
      // An assertion that changes nothing hides the day on which it begins to.
      '@typescript-eslint/no-unnecessary-type-assertion': 'error',
      // A new outcome, entry or hold is met everywhere that tells them apart.
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true, requireDefaultForNonUnion: false },
      ],
    },
  },
  { files: ['**/*.tsx'], ...solid.configs['flat/typescript'] },
  // Lost reactivity shows as a stale figure on the screen: never only a warning.
  { files: ['**/*.tsx'], rules: { 'solid/reactivity': 'error' } },
]);
