/** What a design could change for those that run after it in the same process. */
const shared: readonly object[] = [
  globalThis,
  ...[
    Object,
    Function,
    Array,
    String,
    Number,
    Boolean,
    Symbol,
    Map,
    Set,
    WeakMap,
    Promise,
    RegExp,
    Date,
    Error,
    Float32Array,
    Float64Array,
    Uint32Array,
    Int32Array,
    Uint8Array,
  ].flatMap((one) => [one, one.prototype as object]),
  Object.getPrototypeOf(Float64Array.prototype) as object,
  Math,
  JSON,
  Reflect,
];

/** The values of all properties of the built-in objects, to be compared after a design has run. */
export function builtInState(): () => boolean {
  const before = shared.map(propertiesOf);
  return () =>
    shared.every((object, i) => {
      const now = propertiesOf(object);
      return now.length === before[i].length && now.every((value, at) => Object.is(value, before[i][at]));
    });
}

/** Keys and what stands behind each, in turn. */
function propertiesOf(object: object): unknown[] {
  return Reflect.ownKeys(object).flatMap((key) => {
    // The runtime keeps what it loads late behind symbols there; a design's own global object takes nothing.
    if (object === globalThis && typeof key === "symbol") return [];
    const { value, get, set } = Object.getOwnPropertyDescriptor(object, key) ?? {};
    // A few properties of the process's own come and go with every error that is read.
    if (object === Error && (key === "prepareStackTrace" || key === "stackTraceLimit")) return [];
    return [key, value, get, set];
  });
}
