// How the scripts of the pages are looked over; run from the top of the tree.
import { defineConfig } from "eslint/config";
import globals from "globals";
import js from "@eslint/js";

export default defineConfig([
  {
    files: ["build/baybook/assets/scripts/*.js"],
    extends: [js.configs.recommended],
    languageOptions: {
      globals: { ...globals.browser, carriedLibraries: "readonly" },
      parserOptions: { ecmaVersion: 2025 },
    },
    rules: {
      complexity: ["error", 15],
      curly: ["error", "multi-line"],
      eqeqeq: "error",
      "max-depth": ["error", 3],
      "no-restricted-globals": ["error", "name", "event", "status", "find", "open", "close", "print"],
      "no-shadow": "error",
      "no-var": "error",
      "prefer-const": "error",
    },
  },
  {
    files: ["tests/scripts/*.js"],
    extends: [js.configs.recommended],
    languageOptions: { globals: { ...globals.node, ...globals.browser } },
  },
]);
