/**
 * Filament that is lost besides what is planned, as a share of it: what is pushed out at loading, first layers that fail,
 * trials. Common practice, no source.
 */
export const wasteShare = 0.1;

/** A print as it takes filament of one material. */
export interface SpoolPrint {
  /** Filament of the print, waste counted, g. */
  readonly grams: number;
  /** Moments between which it holds its spool. */
  readonly start: number;
  readonly end: number;
}

/** What a print takes from a spool. */
export interface SpoolUse {
  /** Index: first those in stock, then those to buy. */
  readonly spool: number;
  readonly grams: number;
}

export interface SpoolPlan {
  /** g of all prints. */
  readonly need: number;
  /** g in stock. */
  readonly stock: number;
  /** Full spools to buy. */
  readonly buy: number;
  /** Full spools that would hold all of it if nothing were printed at the same time; absent where that is `buy`. */
  readonly buyInTurn?: number;
  /** By print: one use, or several one after the other where the spool is changed while it prints. */
  readonly uses: readonly (readonly SpoolUse[])[];
  /** Times that a spool is changed while something prints. */
  readonly changes: number;
  /** Full spools with which no print would need a change; absent where a print is more than a spool, or it is `buy`. */
  readonly buyForNoChange?: number;
}

interface Spool {
  left: number;
  readonly held: SpoolPrint[];
}

/** Rounding, g. */
const exactly = 1e-6;

/**
 * How many spools to buy, and which print takes which: as few spools as hold all of it, and among them so that few
 * prints outlast theirs. Prints are packed whole, the largest first, each on the first spool that has room for it and
 * is not in use at that time (first-fit decreasing: Johnson 1973, "Near-optimal bin packing algorithms"); what is
 * left over is printed from the fullest remainders.
 * @param stock g on each spool at hand
 * @param full g on a full spool
 * @throws RangeError when a full spool holds nothing
 */
export function planSpools(prints: readonly SpoolPrint[], stock: readonly number[], full: number): SpoolPlan {
  if (!(full > 0)) throw new RangeError(`A spool holds ${full} g: it must be more than zero.`);
  const need = sumOf(prints.map(({ grams }) => grams));
  const inStock = sumOf(stock);
  const least = Math.max(0, Math.ceil((need - inStock) / full - exactly));
  // Prints at the same time need a spool each: with the least number they may not all have one.
  const most = least + prints.length + Math.ceil(need / full);
  let buy = least;
  let packed = pack(prints, stock, full, buy);
  while (!packed && buy < most) packed = pack(prints, stock, full, ++buy);
  if (!packed) throw new RangeError("the prints hold a number that is none");
  const whole = prints.every(({ grams }) => grams <= Math.max(full, ...stock) + exactly);
  let buyForNoChange: number | undefined;
  for (let more = buy + 1; packed.changes > 0 && whole && more <= most; more++) {
    if (pack(prints, stock, full, more)?.changes === 0) {
      buyForNoChange = more;
      break;
    }
  }
  return {
    need,
    stock: inStock,
    buy,
    ...(least < buy && { buyInTurn: least }),
    ...packed,
    ...(buyForNoChange !== undefined && { buyForNoChange }),
  };
}

function pack(
  prints: readonly SpoolPrint[],
  stock: readonly number[],
  full: number,
  buy: number,
): Pick<SpoolPlan, "uses" | "changes"> | undefined {
  const spools: Spool[] = [...stock, ...Array.from({ length: buy }, () => full)].map((left) => ({
    left,
    held: [],
  }));
  const uses: SpoolUse[][] = prints.map(() => []);
  const bySize = prints.map((_, i) => i).sort((a, b) => prints[b].grams - prints[a].grams || a - b);
  const overlong = bySize.filter((i) => {
    const spool = spools.findIndex((one) => one.left >= prints[i].grams - exactly && isFree(one, prints[i]));
    if (spool < 0) return true;
    take(i, spool, prints[i].grams);
    return false;
  });
  let changes = 0;
  for (const i of overlong) {
    let rest = prints[i].grams;
    while (rest > exactly) {
      const fullest = spools
        .map((one, spool) => ({ spool, left: isFree(one, prints[i]) ? one.left : 0 }))
        .reduce((best, one) => (one.left > best.left ? one : best), { spool: -1, left: exactly });
      if (fullest.spool < 0) return undefined;
      const grams = Math.min(rest, fullest.left);
      take(i, fullest.spool, grams);
      rest -= grams;
    }
    changes += uses[i].length - 1;
  }
  return { uses, changes };

  function take(print: number, spool: number, grams: number): void {
    spools[spool].left -= grams;
    spools[spool].held.push(prints[print]);
    uses[print].push({ spool, grams });
  }
}

const isFree = ({ held }: Spool, print: SpoolPrint): boolean =>
  held.every((other) => other === print || other.end <= print.start || other.start >= print.end);

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
