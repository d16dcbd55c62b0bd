import solid from 'eslint-plugin-solid';
import { defineConfig, globalIgnores } from 'eslint/config';
import tseslint from 'typescript-eslint';

export default defineConfig([
  globalIgnores(['dist/', '.cache/', 'node_modules/']),
  tseslint.configs.recommended,
  { rules: { '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }] } },
  { files: ['**/*.tsx'], ...solid.configs['flat/typescript'] },
  // Lost reactivity shows as a stale figure on the screen: never only a warning.
  { files: ['**/*.tsx'], rules: { 'solid/reactivity': 'error' } },
]);
