import { expect, test } from "vitest";
import { dateOf, dayOf, momentOf, weekdayOf, weekdays } from "../../../src/print/schedule/calendar";

test("days count from 1970-01-01", () => {
  expect(dayOf("1970-01-01")).toBe(0);
  expect(dayOf("1970-02-01")).toBe(31);
  // 30 years of 365 days and the 7 leap days of 1972 to 1996.
  expect(dayOf("2000-01-01")).toBe(30 * 365 + 7);
  // 2000 is a leap year, 2100 is none (Gregorian rule, ISO 8601).
  expect(dayOf("2000-03-01")! - dayOf("2000-02-01")!).toBe(29);
  expect(dayOf("2100-03-01")! - dayOf("2100-02-01")!).toBe(28);
});

test("there and back", () => {
  for (let day = -1000; day < 60_000; day += 17) expect(dayOf(dateOf(day))).toBe(day);
});

test.each(["2027-02-29", "2027-13-01", "2027-00-10", "2027-1-5", "14.5.2027", "2027-05-14T10:00", ""])(
  "%s is no date",
  (text) => expect(dayOf(text)).toBeUndefined(),
);

test("weekdays agree with the runtime's own calendar", () => {
  const names = new Intl.DateTimeFormat("en-GB", { weekday: "short", timeZone: "UTC" });
  for (let day = -800; day < 60_000; day += 13) {
    expect(weekdayOf(day)).toBe(names.format(new Date(day * 86_400_000)));
  }
  expect(new Set(weekdays).size).toBe(7);
});

test("moments to the minute", () => {
  const day = dayOf("2027-05-14")!;
  expect(momentOf(24 * day + 8.5)).toBe("2027-05-14T08:30");
  expect(momentOf(24 * day + 23.9999)).toBe("2027-05-15T00:00");
});
