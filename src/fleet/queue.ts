import type { Payload } from './payload.js';

/** Something to be done once, by whichever machine takes it. */
export interface Job {
  /** What it is of, as a hash: a job of the same key is the same job, whoever submits it. */
  key: string;
  /** Keys of jobs that must have ended, well or not, before this one is done. */
  needs: readonly string[];
  payload: Payload;
}

/** How a job came out. */
export interface Outcome {
  /** What is wrong with what it was of, in one line; null: nothing. */
  bad: string | null;
}

/** Where a job stands. */
export interface Standing {
  state: 'waiting' | 'running' | 'done' | 'failed';
  /** Null until it is done. */
  outcome: Outcome | null;
  /** Why it failed; null where it did not. */
  why: string | null;
  /** Seconds that it took; null until it has ended. */
  seconds: number | null;
}

/** A job that is leased to one worker. Each call tells whether the lease still held. */
export interface Taken {
  job: Job;
  /** Holds on to it for another lease. @param share of it that is done, 0 to 1; null: not known */
  beat(share: number | null): Promise<boolean>;
  done(outcome: Outcome): Promise<boolean>;
  /** It could not be done here: tried again a few times, by whoever takes it, before it counts as failed. */
  failed(why: string): Promise<boolean>;
  /** Gives it back, to be taken in so many milliseconds at the earliest. */
  later(milliseconds: number): Promise<boolean>;
}

/** Names that one worker holds at a time, for a lease. */
export interface Hold {
  beat(): Promise<boolean>;
  release(): Promise<void>;
}

/** A durable queue that several machines reach: what the fleet asks of the engine that keeps it. */
export interface Queue {
  /** By the clock of the queue, which is the same for machines whose own clocks differ. */
  now(): Date;
  /** Puts in what is not there yet, or failed. @param done what becomes of jobs that are done @returns how many were put in */
  submit(jobs: readonly Job[], done: 'leave' | 'redo'): Promise<number>;
  /** The next job, leased; null where none is to be had within a second or so. */
  take(): Promise<Taken | null>;
  /** All of the names, or null where somebody else holds one of them. */
  hold(names: readonly string[]): Promise<Hold | null>;
  /** By key; jobs that are not in the queue are left out. */
  standings(keys: readonly string[]): Promise<Map<string, Standing>>;
  /** Jobs that have not ended. */
  left(): Promise<number>;
  close(): Promise<void>;
}
