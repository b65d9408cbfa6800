// A bench sheet begins sound, and a foreign one is refused in one sentence.
import assert from "node:assert/strict";
import { test } from "node:test";

import { sheetFormat } from "../../build/baybook/assets/scripts/sheet-format.js";

test("a new sheet is read back as it was", () => {
  const sheet = sheetFormat.begin("finch", "Halden Finch");
  assert.deepEqual(sheetFormat.read(JSON.stringify(sheet)), { sheet });
});

test("a text that is no sheet is refused", () => {
  assert.match(sheetFormat.read("{").problem, /cannot be read/);
  assert.match(sheetFormat.read('{"form": "other"}').problem, /not a bench sheet/);
});
