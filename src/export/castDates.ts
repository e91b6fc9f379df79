import { dayOf, weekdayOf } from "../print/schedule/calendar";

const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** `2027-05-14` as `Fri 14 May 2027`; without the year `Fri 14 May`. */
export function dateText(date: string, options: { readonly withYear?: boolean } = {}): string {
  const day = dayOf(date);
  if (day === undefined) throw new RangeError(`"${date}" is no date.`);
  const [year, month, ofMonth] = date.split("-").map(Number);
  return `${weekdayOf(day)} ${ofMonth} ${months[month - 1]}${options.withYear ? ` ${year}` : ""}`;
}

/** `2027-05-14T08:30` as `Fri 14 May, 08:30`. */
export function momentText(moment: string): string {
  const [date, time] = moment.split("T");
  return `${dateText(date)}, ${time}`;
}

/** Hours that a person plans with: to the half hour below ten, whole from there. */
export const plainHours = (hours: number): string =>
  `${Math.abs(hours) < 10 ? Math.round(2 * hours) / 2 : Math.round(hours)} h`;

/** Time to spare, never rounded up: hours, from two days on days. */
export function spareText(hours: number): string {
  if (hours >= 48) return `${Math.floor(hours / 24)} days`;
  return `${hours < 10 ? Math.floor(2 * hours) / 2 : Math.floor(hours)} h`;
}
