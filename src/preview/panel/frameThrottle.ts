/**
 * At most one call a frame, always with the latest value. `flush` calls at once with what waits, if anything does; `drop` forgets it.
 */
export function oncePerFrame<T>(
  act: (value: T) => void,
  request: (callback: () => void) => number = (callback) => requestAnimationFrame(callback),
): { readonly call: (value: T) => void; readonly flush: () => void; readonly drop: () => void } {
  let waiting: { readonly value: T } | undefined;
  let isRequested = false;
  const flush = () => {
    if (waiting === undefined) return;
    const { value } = waiting;
    waiting = undefined;
    act(value);
  };
  return {
    call(value) {
      waiting = { value };
      if (isRequested) return;
      isRequested = true;
      request(() => {
        isRequested = false;
        flush();
      });
    },
    flush,
    drop() {
      waiting = undefined;
    },
  };
}
