import seedrandom from 'seedrandom';

/** What a simulated fleet is made of: seconds and bytes as measured, the rest as said. */
export interface FleetPlan {
  cameras: number;
  /** Clips of one hour that each camera brings. */
  clipsEach: number;
  /** Processor seconds of the job of one clip: what is drawn from, again and again. */
  jobSeconds: readonly number[];
  /** Bytes that a job reads from the shared folder. */
  jobBytes: number;
  /** Bytes a second that the folder gives all machines together. */
  folder: number;
  /** Seconds that a job takes of the queue, which does one thing at a time. */
  queueSeconds: number;
  /** Seconds a clip of what writes the document, one after the other, from what is kept. */
  writeSeconds: number;
  /** Workers, each on a core of its own. */
  workers: number;
}

export interface FleetForetold {
  /** Until the document is there. */
  hours: number;
  /** Of all processors together. */
  machineHours: number;
  /** What more workers would not make faster. */
  limit: 'reading' | 'the folder' | 'the queue' | 'the document';
}

/**
 * Plays a run through: each worker takes the next job when it is free, once the queue has the time for it, and reads as fast
 * as its share of the folder allows while it computes.
 */
export function foretell(plan: FleetPlan): FleetForetold {
  const { cameras, clipsEach, jobSeconds, jobBytes, folder, queueSeconds, writeSeconds, workers } = plan;
  const random = seedrandom('a fleet');
  const jobs = cameras * clipsEach;
  const free = new Float64Array(workers);
  const reading = (jobBytes * workers) / folder;
  let queue = 0;
  let computing = 0;
  for (let job = 0; job < jobs; job++) {
    let next = 0;
    for (let w = 1; w < workers; w++) if (free[w]! < free[next]!) next = w;
    const own = jobSeconds[Math.floor(random() * jobSeconds.length)]!;
    queue = Math.max(queue, free[next]!) + queueSeconds;
    free[next] = queue + Math.max(own, reading);
    computing += own;
  }
  const document = jobs * writeSeconds;
  const parts = {
    reading: computing / workers,
    'the folder': (jobs * jobBytes) / folder,
    'the queue': jobs * queueSeconds,
    'the document': document,
  };
  const [limit] = Object.entries(parts).sort(([, a], [, b]) => b - a)[0] as [FleetForetold['limit'], number];
  return {
    hours: (Math.max(...free) + document) / 3600,
    machineHours: (computing + document) / 3600,
    limit,
  };
}
