import { format } from "node:util";
import { type Message, MessageError } from "../message";
import { didYouMean } from "../nearestName";

/**
 * The names that a design's script sees. The script runs in the process's own realm, so that lists, typed
 * arrays and errors are the same classes for the design, the language and `@jscad/modeling`, and calls cost
 * nothing; a second realm would break `instanceof` between them and be no safer. What keeps a bad design from
 * doing harm is that the process is its own and short-lived. These names only keep a design pure: whatever
 * could make two runs differ, or reach outside, is an error on its line.
 */

/** Global names of the language standard and of text handling that give the same for the same. */
const pureNames = new Set(
  `Object Function Array Number parseFloat parseInt Infinity NaN undefined Boolean String Symbol Promise RegExp
  Error AggregateError EvalError RangeError ReferenceError SyntaxError TypeError URIError globalThis JSON Intl
  ArrayBuffer Uint8Array Int8Array Uint16Array Int16Array Uint32Array Int32Array Float32Array Float64Array
  Uint8ClampedArray BigUint64Array BigInt64Array DataView Map BigInt Set WeakMap WeakSet Proxy Reflect Iterator
  decodeURI decodeURIComponent encodeURI encodeURIComponent escape unescape eval isFinite isNaN structuredClone
  URL URLSearchParams TextEncoder TextDecoder atob btoa`.split(/\s+/),
);

const notPure = "a design is a pure function of the head and its parameters";

interface Impure {
  readonly text: string;
  readonly suggestion: string;
}

function refuse({ text, suggestion }: Impure): never {
  throw new MessageError([{ id: "not-pure", severity: "error", text, suggestion }]);
}

const timers: Impure = {
  text: "a design cannot wait for a timer: it is done when make returns",
  suggestion: `call the function at once; ${notPure}`,
};

const special: Record<string, Impure> = {
  setTimeout: timers,
  setInterval: timers,
  setImmediate: timers,
  queueMicrotask: timers,
  clearTimeout: timers,
  clearInterval: timers,
  clearImmediate: timers,
  performance: clock("performance"),
  fetch: {
    text: "a design cannot fetch anything",
    suggestion: `keep data in a .json file beside the design and import it; ${notPure}`,
  },
  crypto: chance("crypto"),
};

function clock(name: string): Impure {
  return {
    text: `a design has no clock: ${name} would differ from build to build`,
    suggestion: `make what varies a parameter, or use random from make; ${notPure}`,
  };
}

function chance(name: string): Impure {
  return {
    text: `${name} would differ from build to build`,
    suggestion: "use random from make, which gives the same numbers for the same design",
  };
}

/** The names a script sees and their values, to be handed to it as parameters. */
export function pureWorld(require: (name: string) => unknown, log: DesignLog): Record<string, unknown> {
  const world: Record<string, unknown> = {};
  const hidden = Object.getOwnPropertyNames(globalThis).filter(
    (name) => !pureNames.has(name) && /^[A-Za-z_$][\w$]*$/.test(name),
  );
  for (const name of hidden) world[name] = trap(special[name] ?? outside(name));
  world.Math = overlay(Math, { random: () => refuse(chance("Math.random()")) });
  world.Date = pureDate();
  world.console = consoleFor(log);
  world.process = pureProcess();
  world.require = require;
  world.globalThis = overlay(globalThis, world);
  world.global = world.globalThis;
  return world;
}

function outside(name: string): Impure {
  return {
    text: `a design cannot use ${name}`,
    suggestion: `${notPure}; it uses only anadem, @jscad/modeling and plain JavaScript`,
  };
}

/** Stands in for a value that may be mentioned but neither called nor looked into. */
function trap(impure: Impure): unknown {
  const refuseIt = () => refuse(impure);
  return new Proxy(function notAvailable() {}, {
    apply: refuseIt,
    construct: refuseIt,
    get: (_, key) => (typeof key === "symbol" ? undefined : refuseIt()),
    set: refuseIt,
  });
}

/** An object that shows `over` before what `base` has. */
function overlay(base: object, over: Record<string, unknown>): object {
  return new Proxy(Object.create(null), {
    get: (_, key) => (Object.hasOwn(over, key) ? over[key as string] : Reflect.get(base, key)),
    has: (_, key) => Object.hasOwn(over, key) || Reflect.has(base, key),
    set: (_, key) =>
      refuse({
        text: `a design cannot set ${String(key)} for everyone`,
        suggestion: "keep it in a const of its own",
      }),
  });
}

function pureDate(): DateConstructor {
  return new Proxy(Date, {
    apply: () => refuse(clock("Date()")),
    construct: (target, args, self) =>
      args.length === 0 ? refuse(clock("new Date()")) : Reflect.construct(target, args, self),
    get: (target, key) => (key === "now" ? () => refuse(clock("Date.now()")) : Reflect.get(target, key)),
  });
}

/** `process.env` alone may be looked at, and is empty: libraries copied beside a design often ask it. */
function pureProcess(): object {
  const ending: Impure = {
    text: "a design cannot end the process",
    suggestion: "return the parts made so far, or throw an error that says what is wrong",
  };
  return new Proxy(Object.create(null), {
    get: (_, key) => {
      if (key === "env") return Object.freeze({});
      if (typeof key === "symbol") return undefined;
      return refuse(
        ["exit", "abort", "kill", "reallyExit"].includes(key) ? ending : outside(`process.${key}`),
      );
    },
    set: () => refuse(outside("process")),
  });
}

/** What a design prints, kept as notes. */
export interface DesignLog {
  add(text: string): void;
}

const printing = ["log", "info", "debug", "warn", "error", "trace", "table", "dir"];

function consoleFor(log: DesignLog): object {
  const print = (...values: unknown[]) => log.add(format(...values));
  return new Proxy(Object.create(null), {
    get: (_, key) => {
      if (typeof key === "string" && key.startsWith("time")) return () => refuse(clock(`console.${key}`));
      return printing.includes(String(key)) ? print : () => undefined;
    },
  });
}

/**
 * A module's exports for a design: a name that it does not have is an error where it is used, with the nearest
 * name it has, not an `undefined` that fails somewhere else.
 */
export function strictModule(name: string, exported: object): object {
  const names = Object.keys(exported);
  return new Proxy(exported, {
    get: (target, key) => {
      if (
        key in target ||
        typeof key === "symbol" ||
        ["default", "__esModule", "then", "toJSON"].includes(key)
      ) {
        return Reflect.get(target, key);
      }
      const message: Message = {
        id: "import-name",
        severity: "error",
        text: `${name} does not export "${key}"`,
        suggestion: didYouMean(key, names) ?? `it exports ${names.slice(0, 12).join(", ")}…`,
      };
      throw new MessageError([message]);
    },
  });
}
