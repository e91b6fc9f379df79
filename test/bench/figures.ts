/** One figure of the bench: its bar, and whether it holds. */
export interface Figure {
  readonly value: number;
  readonly unit: string;
  /** For example `<= 0.45`; absent: only told. */
  readonly bar?: string;
  readonly holds?: boolean;
}

/** The figures of a run, by name. */
export type Figures = ReturnType<typeof makeFigures>;

export function makeFigures() {
  const all: Record<string, Figure> = {};
  return {
    all: all as Readonly<Record<string, Figure>>,
    /** Told without a bar. */
    tell(name: string, value: number, unit: string) {
      all[name] = { value, unit };
    },
    most(name: string, value: number, unit: string, bar: number) {
      all[name] = { value, unit, bar: `<= ${bar}`, holds: value <= bar };
    },
    least(name: string, value: number, unit: string, bar: number) {
      all[name] = { value, unit, bar: `>= ${bar}`, holds: value >= bar };
    },
  };
}
