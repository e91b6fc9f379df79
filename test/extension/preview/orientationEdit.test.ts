import { describe, expect, test } from "vitest";
import { orientationEdit } from "../../../src/extension/preview/orientationEdit";

const lying = { tilt: 90, towards: 180, turn: 0 };

function edited(
  text: string,
  orientation: Parameters<typeof orientationEdit>[1] = lying,
): string | undefined {
  const change = orientationEdit(text, orientation);
  return change && text.slice(0, change.start) + change.text + text.slice(change.end);
}

describe("which way up, written into a design", () => {
  test("where it says nothing of its print, after what usually stands before", () => {
    expect(edited('export default headpiece({\n  name: "a",\n  material: "p.json",\n  make: f,\n});')).toBe(
      'export default headpiece({\n  name: "a",\n  material: "p.json",\n  print: { orientation: { tilt: 90, towards: 180 } },\n  make: f,\n});',
    );
  });

  test("beside a file of print settings", () => {
    expect(edited("headpiece({ name: 'a', print: 'fine.print.json', make })")).toBe(
      "headpiece({ name: 'a', print: { file: 'fine.print.json', orientation: { tilt: 90, towards: 180 } }, make })",
    );
  });

  test("among other settings, and in place of the one before", () => {
    expect(edited('headpiece({ name: "a", print: { shells: 2 }, make })')).toBe(
      'headpiece({ name: "a", print: { shells: 2, orientation: { tilt: 90, towards: 180 } }, make })',
    );
    expect(
      edited('headpiece({ name: "a", print: { orientation: "best", shells: 2 }, make })', "as designed"),
    ).toBe('headpiece({ name: "a", print: { orientation: "as designed", shells: 2 }, make })');
    expect(edited('headpiece({ name: "a", print: {}, make })', { tilt: 0, towards: 0, turn: 45 })).toBe(
      'headpiece({ name: "a", print: { orientation: { tilt: 0, turn: 45 } }, make })',
    );
  });

  test("what is computed, or not closed, is left alone", () => {
    expect(edited('headpiece({ name: "a", print: settings(), make })')).toBeUndefined();
    expect(edited('headpiece({ name: "a", print, make })')).toBeUndefined();
    expect(edited('headpiece({ name: "a",')).toBeUndefined();
    expect(edited('headpiece({ name: "a", print: { orientation }, make })')).toBeUndefined();
  });
});
