/** Size of a pin, CSS pixels; its foot stands at the middle of its lower edge. */
export const pinSize = { width: 24, height: 32 };

/** From the foot up to the symbol. */
export const pinStem = "M12 32 L12 20";

/** Where a mark that stands for several says how many more, beside its symbol. */
export const countPlace = { x: 25, y: 12 };
export const countText = (others: number): string => `+${others}`;

/** A shape for each severity, so that it is told by more than a colour, and the sign on it. */
export const markSymbols = {
  error: {
    body: "M7.9 1.5 H16.1 L22 7.4 V15.6 L16.1 21.5 H7.9 L2 15.6 V7.4 Z",
    sign: "M8.6 8.1 L15.4 14.9 M15.4 8.1 L8.6 14.9",
  },
  warning: {
    body: "M12 1.5 L22.8 21.5 H1.2 Z",
    sign: "M12 8.2 V14 M12 17 V18.2",
  },
  note: {
    body: "M12 1.5 A10 10 0 1 1 12 21.5 A10 10 0 1 1 12 1.5 Z",
    sign: "M12 10.6 V16.4 M12 6.6 V7.6",
  },
} as const;
