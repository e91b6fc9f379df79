import { grouped } from "./rounding";

/** Hours, metres and their bands, as all reports of a print say them. */

const minute = 60;
const hour = 3600;

/** A duration to the minute: `12 h 30 min`, `45 min`, `3 h`; below a minute `40 s`. Of seconds. */
export function hoursAndMinutes(seconds: number): string {
  demandDuration(seconds);
  if (Math.round(seconds) < minute) return `${Math.round(seconds)} s`;
  const minutes = Math.round(seconds / minute);
  const hours = Math.floor(minutes / 60);
  const rest = minutes - 60 * hours;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${grouped(hours)} h` : `${grouped(hours)} h ${rest} min`;
}

/**
 * A band of durations, rounded outwards so that it promises no more than is known: `12 to 15 h`; below four hours in steps
 * of five minutes, `50 min to 1 h 10 min`. Of seconds.
 * @throws RangeError when the ends are no durations or in the wrong order.
 */
export function hoursBand(low: number, high: number): string {
  demandDuration(low);
  demandDuration(high);
  if (low > high) throw new RangeError(`A band begins with its lesser end, not ${low} s to ${high} s.`);
  if (high >= 4 * hour) {
    const [from, to] = [Math.floor(low / hour), Math.ceil(high / hour)];
    return from === to ? `${grouped(to)} h` : `${grouped(from)} to ${grouped(to)} h`;
  }
  const step = 5 * minute;
  const [from, to] = [step * Math.floor(low / step), step * Math.ceil(high / step)];
  if (from === to) return hoursAndMinutes(to);
  if (from === 0) return `up to ${hoursAndMinutes(to)}`;
  return to < hour
    ? `${from / minute} to ${to / minute} min`
    : `${hoursAndMinutes(from)} to ${hoursAndMinutes(to)}`;
}

/** A length of filament: `1,234 m`, `12.4 m`, `0.35 m`. */
export function metresText(metres: number): string {
  if (!Number.isFinite(metres) || metres < 0) {
    throw new RangeError(`A length of filament is a finite number of metres from 0, not ${metres}.`);
  }
  if (metres >= 99.95) return `${grouped(Math.round(metres))} m`;
  return `${Number(metres.toFixed(metres >= 1 ? 1 : 2))} m`;
}

function demandDuration(seconds: number): void {
  if (!Number.isFinite(seconds) || seconds < 0) {
    throw new RangeError(`A duration is a finite number of seconds from 0, not ${seconds}.`);
  }
}
