/** How fast somebody types, and what is a pause for them. */

export interface Clock {
  /** ms */
  now(): number;
  /** Acts once after so many milliseconds, unless what is returned is called before. */
  after(ms: number, act: () => void): () => void;
}

/** How long no key has come, and with it what is reported. */
export const STAGE = {
  typing: 0,
  /** What is wrong with a line that reads finished. */
  paused: 1,
  /** And what follows from that line elsewhere. */
  still: 2,
  /** And what follows from a line that may go on, though it is right as it is. */
  stopped: 3,
  /** And what is wrong with a half-written line. */
  rested: 4,
} as const;

export type Stage = (typeof STAGE)[keyof typeof STAGE];

/** Ours: longer than between two keys of a person who types at an even pace. ms */
const PAUSES: Readonly<Record<'short' | 'long' | 'still' | 'stopped' | 'rested', number>> = {
  short: 250,
  long: 600,
  still: 700,
  stopped: 1500,
  rested: 3000,
};

/** Ours: so much longer than between two of their keys is a pause of somebody who types slowly. */
const SLACK = 1.8;

/** Between keys that are further apart nobody types. ms */
const LONGEST_BETWEEN_KEYS = 2500;

/** From so many keys it is known how fast somebody types. */
const KEYS = 8;

/** So much too late something else took the time, and keys that came meanwhile are still to be read. ms */
const LATE = 100;

const CLOCK: Clock = {
  now: () => performance.now(),
  after: (ms, act) => {
    let timer: ReturnType<typeof setTimeout>;
    const plan = (wait: number): void => {
      const due = performance.now() + wait;
      timer = setTimeout(() => (performance.now() - due > LATE ? plan(LATE) : act()), wait);
      (timer as Partial<NodeJS.Timeout>).unref?.();
    };
    plan(ms);
    return () => clearTimeout(timer);
  },
};

export class Rhythm {
  clock = CLOCK;
  readonly #between: number[] = [];
  #last: number | undefined;
  #running: (() => void)[] = [];

  /** Something was typed: what is reached after each pause from now on. `short` is for a line that may be finished. */
  keyed(reach: (stage: Stage, pause: keyof typeof PAUSES) => void): void {
    this.stop();
    const now = this.clock.now();
    const between = now - (this.#last ?? Number.NEGATIVE_INFINITY);
    this.#last = now;
    if (between < LONGEST_BETWEEN_KEYS) this.#between.push(between);
    if (this.#between.length > KEYS) this.#between.shift();
    const sorted = this.#between.toSorted((one, other) => one - other);
    const usual = SLACK * (sorted[Math.floor(sorted.length / 2)] ?? 0);
    const plan = (pause: keyof typeof PAUSES, stage: Stage): (() => void) =>
      this.clock.after(Math.max(PAUSES[pause], usual), () => reach(stage, pause));
    this.#running = [
      plan('short', STAGE.paused),
      plan('long', STAGE.paused),
      plan('still', STAGE.still),
      plan('stopped', STAGE.stopped),
      plan('rested', STAGE.rested),
    ];
  }

  stop(): void {
    for (const end of this.#running) end();
    this.#running = [];
  }
}
