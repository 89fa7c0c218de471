/** Work that can stop on its way, done in one go. */
export function drained<Result>(work: Generator<unknown, Result>): Result {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
}
