import type { Redis } from 'ioredis';
import { Problem } from '../base/problem.js';
import type { Address } from './address.js';

/** How long a client tries to connect, milliseconds. */
const CONNECT_MS = 10_000;
/** After how many milliseconds without the server that is told. */
const AWAY_MS = 3000;

/** What the engine and we connect with. */
export type Connection = {
  path?: string;
  host?: string;
  port?: number;
  db?: number;
  tls?: Record<string, never>;
  username?: string;
  password?: string;
  connectTimeout: number;
  maxRetriesPerRequest: null;
};

export function connectionTo({ connect, user, password }: Address): Connection {
  const place =
    'path' in connect
      ? { path: connect.path }
      : { host: connect.host, port: connect.port, db: connect.db, ...(connect.tls && { tls: {} }) };
  return {
    ...place,
    ...(user !== null && { username: user }),
    ...(password !== null && { password }),
    connectTimeout: CONNECT_MS,
    // A server that is started again is waited for.
    maxRetriesPerRequest: null,
  };
}

/** A client of a server that answers and keeps what it is given. */
export interface Answering {
  client: Redis;
  /** By how many milliseconds the server's clock is ahead of this machine's. */
  ahead: number;
}

/**
 * @param onWarning told where the server goes away, and that it is back
 * @throws Problem 'needs-queue' where there is none
 */
export async function clientOf(
  ioredis: Pick<typeof import('ioredis'), 'Redis'>,
  address: Address,
  onWarning: (line: string) => void,
): Promise<Answering> {
  const client = new ioredis.Redis(connectionTo(address));
  let ahead: number;
  try {
    await mustAnswer(client);
    mustKeepAll(await client.info('memory'));
    ahead = await aheadOf(client);
  } catch (error) {
    client.disconnect();
    throw faultOf(error, address);
  }
  tellAway(client, address, onWarning);
  return { client, ahead };
}

async function aheadOf(client: Redis): Promise<number> {
  const [seconds = 0, micros = 0] = (await client.time()).map(Number);
  return seconds * 1000 + micros / 1000 - Date.now();
}

async function mustAnswer(client: Redis): Promise<void> {
  let last: Error | null = null;
  // Kept for as long as the client is: what is wrong later is told by the command that fails.
  const refused = new Promise<never>((_, refuse) => {
    client.on('error', (error) => {
      last ??= error;
      refuse(error);
    });
  });
  const ended = new Promise<never>((_, refuse) => {
    client.once('close', () => refuse(last ?? new Error(NO_SERVER)));
  });
  const late = new Promise<never>((_, refuse) => {
    setTimeout(() => refuse(new Error(SILENT)), CONNECT_MS).unref();
  });
  await Promise.race([client.ping(), refused, ended, late]);
}

/** @throws Error where the server may drop jobs to make room */
function mustKeepAll(info: string): void {
  const said = new Map(info.split(/\r?\n/).map((line) => line.split(':', 2) as [string, string]));
  const limited = Number(said.get('maxmemory') ?? 0) > 0;
  const policy = said.get('maxmemory_policy') ?? 'noeviction';
  if (limited && policy !== 'noeviction') throw new Error(DROPS);
}

/** A server that is away is waited for, however long, so that somebody must be told. */
function tellAway(client: Redis, { shown }: Address, onWarning: (line: string) => void): void {
  let told = false;
  let timer: NodeJS.Timeout | null = null;
  client.on('close', () => {
    timer ??= setTimeout(() => {
      told = true;
      onWarning(`the queue at ${shown}: does not answer; waiting until it does`);
    }, AWAY_MS).unref();
  });
  const over = () => {
    if (timer) clearTimeout(timer);
    timer = null;
  };
  client.on('end', over);
  client.on('ready', () => {
    over();
    if (told) onWarning(`the queue at ${shown}: answers again`);
    told = false;
  });
}

const SILENT = 'SILENT';
const NO_SERVER = 'NOSERVER';
const DROPS = 'DROPS';

/** By the first word of an error, which the protocol fixes; the rest of it may repeat what the server was sent. */
const FAULTS: readonly [RegExp, string][] = [
  [
    /WRONGPASS|invalid username-password|invalid password/i,
    'the user or the password is not the one it knows; mend them',
  ],
  [/^NOAUTH/, 'it wants a password; put the address with it into PERCHMARK_QUEUE or into a file'],
  [
    /without any password configured/,
    'it has no password, but the address has one; give it one (requirepass), or take it out of the address',
  ],
  [
    /^NOPERM/,
    'this user may not do what a queue takes; let it use all commands on keys that begin with bull: (ACL SETUSER)',
  ],
  [/^OOM/, 'its memory is full; raise its maxmemory'],
  [/^MISCONF/, 'it cannot write to its disk; free some space there'],
  [/^(READONLY|MASTERDOWN)/, 'it only repeats what another server says (a replica); name that one'],
  [
    /^(-?DENIED)/,
    'it answers no other machine, because it has no password (protected mode); give it one (requirepass)',
  ],
  [/^(LOADING|BUSY)/, 'it is busy; try again in a while'],
  [
    /^WRONGTYPE/,
    'something else is kept there under the names of a queue; name another database, such as redis://HOST/1',
  ],
  [/DB index is out of range/, 'it has no database of that number; mend the end of the address'],
  [
    /^(Protocol error|Unknown RESP type|NOSERVER)/,
    'what answers there is no Redis server, or one that speaks TLS where the address does not; mend the address',
  ],
  [/^SILENT/, 'it does not answer; see whether it is a Redis server, and whether it is overloaded'],
  [/^DROPS/, 'it drops what it keeps where its memory is full; set maxmemory-policy noeviction'],
];

/** What a server or the way to it refuses, in our own words. Other errors are given back as they are. */
export function faultOf(error: unknown, { shown }: Address): unknown {
  if (!(error instanceof Error) || error instanceof Problem) return error;
  const problem = (what: string) => new Problem('needs-queue', `the queue at ${shown}: ${what}`);
  const known = FAULTS.find(([words]) => words.test(error.message));
  if (known) return problem(known[1]);
  const { code, syscall } = error as NodeJS.ErrnoException;
  if (/CERT|UNABLE_TO_(VERIFY|GET_ISSUER)/.test(code ?? '')) {
    return problem(
      `its certificate is none that this machine trusts for that name (${code}); name the file of who signed it in NODE_EXTRA_CA_CERTS, or mend the name`,
    );
  }
  const onTheWay =
    /^(connect|read|write|getaddrinfo)$/.test(syscall ?? '') || /^ERR_(SSL|TLS)/.test(code ?? '');
  if (onTheWay || error.name === 'MaxRetriesPerRequestError') {
    const which = code === undefined ? '' : ` (${code})`;
    return problem(
      `cannot be reached${which}; start the server there, mend the address, or see whether a firewall is between`,
    );
  }
  if (error.name !== 'ReplyError') return error;
  return problem(`it refuses (${/^[A-Z]+/.exec(error.message)?.[0] ?? 'ERR'}); see its log`);
}
