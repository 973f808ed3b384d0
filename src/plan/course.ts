/**
 * The course through the hours that is worth most: in which of several states to be in each hour, where every change costs a
 * walk and can be made only at some hours. Exact, by dynamic programming (Bellman 1957): the best way to an hour in a state
 * either was in that state before, or walked from whichever was best before. What is level stays as it is, then takes the
 * earlier state.
 *
 * @param worth for each hour, what each state gives in it; all of one length
 * @param mayChange for each hour, whether a change can be made when it begins; what the first begins in costs nothing
 * @param cost of one change, in what worth is in
 * @returns for each hour the state to be in
 */
export function bestCourse(
  worth: readonly ArrayLike<number>[],
  mayChange: readonly boolean[],
  cost: number,
): number[] {
  const states = worth[0]?.length ?? 0;
  if (states === 0) return [];
  let best = Float64Array.from(worth[0]!);
  const cameFrom: Int32Array[] = [];
  for (let hour = 1; hour < worth.length; hour++) {
    const top = argMax(best);
    const from = new Int32Array(states);
    const next = new Float64Array(states);
    for (let state = 0; state < states; state++) {
      const walks = mayChange[hour] === true && best[top]! - cost > best[state]! + LEVEL;
      from[state] = walks ? top : state;
      next[state] = (walks ? best[top]! - cost : best[state]!) + worth[hour]![state]!;
    }
    cameFrom.push(from);
    best = next;
  }
  const course = [argMax(best)];
  for (const from of cameFrom.reverse()) course.push(from[course.at(-1)!]!);
  return course.reverse();
}

/** Worths that differ by rounding alone are level. */
const LEVEL = 1e-9;

function argMax(values: ArrayLike<number>): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! > values[best]! + LEVEL) best = i;
  return best;
}

/** Places where a course changes, without its beginning. */
export function changesIn(course: readonly number[]): number[] {
  return course.flatMap((state, hour) => (hour > 0 && state !== course[hour - 1] ? [hour] : []));
}
