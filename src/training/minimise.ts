/** A function to make small, and its slope: gives the value at `x` and writes the gradient into `gradient`. */
export type Objective = (x: Float64Array, gradient: Float64Array) => number;

const MEMORY = 8;

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/**
 * L-BFGS with a backtracking line search (Nocedal and Wright, Numerical Optimization, algorithms 7.4 and 3.1).
 * Starts at zero; deterministic. Ends where a step gains less than `tolerance` of the value.
 */
export function minimise(
  objective: Objective,
  size: number,
  { steps = 80, tolerance = 2e-5 } = {},
): Float64Array {
  let x = new Float64Array(size);
  let gradient = new Float64Array(size);
  let value = objective(x, gradient);
  const past: { moved: Float64Array; turned: Float64Array; rho: number }[] = [];
  for (let step = 0; step < steps; step++) {
    const direction = Float64Array.from(gradient);
    const alphas: number[] = [];
    for (const { moved, turned, rho } of [...past].reverse()) {
      const alpha = rho * dot(moved, direction);
      alphas.unshift(alpha);
      for (let i = 0; i < size; i++) direction[i] = (direction[i] ?? 0) - alpha * (turned[i] ?? 0);
    }
    const last = past.at(-1);
    const scale = last
      ? dot(last.moved, last.turned) / dot(last.turned, last.turned)
      : 1 / Math.max(1, Math.sqrt(dot(gradient, gradient)));
    for (let i = 0; i < size; i++) direction[i] = (direction[i] ?? 0) * scale;
    past.forEach(({ moved, turned, rho }, k) => {
      const beta = rho * dot(turned, direction);
      for (let i = 0; i < size; i++)
        direction[i] = (direction[i] ?? 0) + ((alphas[k] ?? 0) - beta) * (moved[i] ?? 0);
    });
    const slope = -dot(direction, gradient);
    if (slope >= 0) break;
    let length = 1;
    let nextValue = Infinity;
    const next = new Float64Array(size);
    const nextGradient = new Float64Array(size);
    while (length > 1e-10) {
      for (let i = 0; i < size; i++) next[i] = (x[i] ?? 0) - length * (direction[i] ?? 0);
      nextValue = objective(next, nextGradient);
      if (nextValue <= value + 1e-4 * length * slope) break;
      length /= 2;
    }
    const moved = new Float64Array(size);
    const turned = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      moved[i] = (next[i] ?? 0) - (x[i] ?? 0);
      turned[i] = (nextGradient[i] ?? 0) - (gradient[i] ?? 0);
    }
    const curvature = dot(moved, turned);
    if (curvature > 1e-10) past.push({ moved, turned, rho: 1 / curvature });
    if (past.length > MEMORY) past.shift();
    const gained = value - nextValue;
    [x, gradient, value] = [next, nextGradient, nextValue];
    if (gained < tolerance * Math.max(1, Math.abs(value))) break;
  }
  return x;
}
