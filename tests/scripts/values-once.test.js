// What stands once in the data of a page is put together again.
import assert from "node:assert/strict";
import { test } from "node:test";

const { whole } = await import("../../build/baybook/assets/scripts/values-once.js");

test("a value stands where its place is named, those inside it too", () => {
  const values = ["Once", { why: { at: 0 }, rows: [{ at: 0 }, 3, null] }];
  assert.deepEqual(whole({ "": { at: 1 }, P0410: { why: { at: 0 }, is: true } }, values), {
    "": { why: "Once", rows: ["Once", 3, null] },
    P0410: { why: "Once", is: true },
  });
});
