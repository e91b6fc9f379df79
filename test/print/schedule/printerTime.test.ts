import { describe, expect, test } from "vitest";
import { dayOf, weekdays } from "../../../src/print/schedule/calendar";
import {
  earliestStart,
  hoursBetween,
  latestStart,
  type PrinterTime,
} from "../../../src/print/schedule/printerTime";
import { seeded } from "./rig";

/** 2027-03-01 is a Monday. */
const monday = dayOf("2027-03-01")!;
const at = (day: number, hour: number) => 24 * (monday + day) + hour;
const workdays = weekdays.slice(0, 5);
const hall: PrinterTime = { attended: [8, 20], weekdays: workdays, from: monday, hoursADay: 24 };

describe("a printer that prints over night", () => {
  test("begins while somebody is there", () => {
    expect(earliestStart(hall, at(0, 0), 30)).toBe(at(0, 8));
    expect(earliestStart(hall, at(0, 13.5), 30)).toBe(at(0, 13.5));
    expect(earliestStart(hall, at(0, 20.5), 30)).toBe(at(1, 8));
    // From Friday evening to Monday morning.
    expect(earliestStart(hall, at(4, 21), 1)).toBe(at(7, 8));
    expect(earliestStart(hall, at(-9, 0), 1)).toBe(at(0, 8));
  });

  test("begins at the latest so that it ends in time", () => {
    // 30 h before Wednesday 20:00 is Tuesday 14:00.
    expect(latestStart(hall, at(2, 20), 30)).toBe(at(1, 14));
    // 2 h before Tuesday 09:00 nobody is there: Monday 20:00.
    expect(latestStart(hall, at(1, 9), 2)).toBe(at(0, 20));
    // 4 h before Monday noon: Monday 08:00; 5 h: not before the first day.
    expect(latestStart(hall, at(0, 12), 4)).toBe(at(0, 8));
    expect(latestStart(hall, at(0, 12), 5)).toBe(-Infinity);
  });
});

describe("a printer that may not run over night", () => {
  const day: PrinterTime = { ...hall, hoursADay: 10, until: monday + 1 };
  test("ends on the day on which it was begun", () => {
    expect(earliestStart(day, at(0, 9), 9)).toBe(at(0, 9));
    expect(earliestStart(day, at(0, 9.5), 9)).toBe(at(1, 8));
    expect(earliestStart(day, at(0, 8), 10)).toBe(at(0, 8));
    expect(earliestStart(day, at(0, 8), 10.5)).toBe(Infinity);
    expect(latestStart(day, at(1, 12), 5)).toBe(at(0, 13));
  });

  test("is gone after its last day", () => {
    expect(earliestStart(day, at(1, 8.5), 10)).toBe(Infinity);
    expect(hoursBetween(day, monday, monday + 30)).toBe(20);
  });
});

test("hours at hand: nights and free days count where prints go on", () => {
  expect(hoursBetween(hall, monday, monday + 6)).toBe(7 * 24);
  expect(hoursBetween({ ...hall, hoursADay: 10 }, monday, monday + 6)).toBe(5 * 10);
});

test("earliest and latest starts agree with a search minute by minute", () => {
  const seed = 20_270_301;
  const draw = seeded(seed);
  for (let i = 0; i < 60; i++) {
    const from = draw(6, 12);
    const time: PrinterTime = {
      attended: [from, draw(from + 1, 23)],
      weekdays: weekdays.filter((_, day) => day === 0 || draw(0, 1) === 1),
      from: monday + draw(0, 3),
      until: monday + draw(8, 14),
      hoursADay: draw(0, 1) ? 24 : draw(3, 16),
    };
    const hours = draw(1, 40) / 2;
    const after = at(draw(0, 10), draw(0, 47) / 2);
    const mayBegin = (start: number) => {
      const day = Math.floor(start / 24);
      const hour = start - 24 * day;
      return (
        hour >= time.attended[0] &&
        hour <= time.attended[1] &&
        day >= time.from &&
        start + hours <= 24 * (time.until! + 1) &&
        time.weekdays.includes(weekdays[(((day - monday) % 7) + 7) % 7]) &&
        (time.hoursADay === 24 || hour + hours <= time.attended[0] + time.hoursADay)
      );
    };
    const moments = Array.from({ length: 20 * 48 }, (_, k) => at(0, k / 2));
    const first = moments.find((moment) => moment >= after && mayBegin(moment)) ?? Infinity;
    const last = moments.findLast((moment) => moment + hours <= after && mayBegin(moment)) ?? -Infinity;
    expect(earliestStart(time, after, hours), `seed ${seed}, ${i}`).toBe(first);
    expect(latestStart(time, after, hours), `seed ${seed}, ${i}`).toBe(last);
  }
});
