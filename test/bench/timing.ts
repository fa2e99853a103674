/** Timing of alternatives side by side, on a machine that others use too. */

export interface Task {
  readonly name: string;
  /** One run; what it returns is kept from the clock's eyes and summed up afterwards, so that nothing is optimised away. */
  readonly run: () => Float64Array;
}

export interface Timing {
  readonly name: string;
  /** Wall clock, median and least over the rounds [ms]. */
  readonly medianMs: number;
  readonly leastMs: number;
  /** Processor time of this process, least over the rounds [ms]; other processes don't count in it. */
  readonly leastCpuMs: number;
  readonly rounds: number;
  readonly checksum: number;
}

/** A sample lasts at least about this long, so that the clocks are fine enough [ms]. */
const SAMPLE_MS = 4;
const MOST_REPEATS = 200;

/**
 * Time tasks in turns: every round runs each once, so that a busy moment of the machine hits all alike.
 *
 * @param rounds samples a task
 * @param warmUp untimed runs before, at least one
 */
export function timeInTurns(tasks: readonly Task[], rounds: number, warmUp = 3): Timing[] {
  const samples = tasks.map((task) => {
    const begin = performance.now();
    let runs = 0;
    while (runs < Math.max(1, warmUp) && (runs === 0 || performance.now() - begin < 2000)) {
      task.run();
      runs++;
    }
    const each = (performance.now() - begin) / runs;
    const repeats = Math.max(1, Math.min(MOST_REPEATS, Math.ceil(SAMPLE_MS / Math.max(each, 0.01))));
    return {
      task,
      repeats,
      wall: [] as number[],
      cpu: [] as number[],
      result: Float64Array.of() as Float64Array,
    };
  });
  for (let round = 0; round < rounds; round++)
    for (const sample of samples) {
      const cpu = process.cpuUsage();
      const begin = performance.now();
      for (let r = 0; r < sample.repeats; r++) sample.result = sample.task.run();
      const wall = performance.now() - begin;
      const used = process.cpuUsage(cpu);
      sample.wall.push(wall / sample.repeats);
      sample.cpu.push((used.user + used.system) / 1000 / sample.repeats);
    }
  return samples.map(({ task, wall, cpu, result }) => ({
    name: task.name,
    medianMs: median(wall),
    leastMs: Math.min(...wall),
    leastCpuMs: Math.min(...cpu),
    rounds,
    checksum: result.reduce((sum, value) => sum + value, 0),
  }));
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1
    ? (sorted[middle] as number)
    : ((sorted[middle - 1] as number) + (sorted[middle] as number)) / 2;
}

/** The power of size that cost grows with: the slope of log cost over log size by least squares. */
export function growthExponent(sizes: readonly number[], costs: readonly number[]): number {
  const x = sizes.map(Math.log);
  const y = costs.map(Math.log);
  const mx = x.reduce((sum, value) => sum + value, 0) / x.length;
  const my = y.reduce((sum, value) => sum + value, 0) / y.length;
  let over = 0;
  let under = 0;
  x.forEach((value, i) => {
    over += (value - mx) * ((y[i] as number) - my);
    under += (value - mx) ** 2;
  });
  return over / under;
}
