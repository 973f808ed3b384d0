import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { readText } from '../files/read-json.js';

/** The variable that holds a queue's address where the command line does not. */
const VARIABLE = 'PERCHMARK_QUEUE';

/** Where a queue is. Never printed whole: it may hold a password. */
export interface Address {
  /** What a client connects with. */
  connect: { host: string; port: number; db: number; tls: boolean } | { path: string };
  user: string | null;
  password: string | null;
  /** As it may be shown: without the user and the password. */
  shown: string;
}

/** Bytes of a file that holds one line. */
const MOST_BYTES = 4096;
const USUAL_PORT = 6379;
/** RFC 3986, 2.2 */
const ESCAPES = 'in a user or a password / stands as %2F, ? as %3F, # as %23, @ as %40, % as %25';

/**
 * The queue that is meant: an address, or a file whose first line is one. On the command line itself an address holds no
 * password, for others on the machine see it there.
 * @param given with --queue; left out: from PERCHMARK_QUEUE
 * @throws Problem 'usage', in which no password stands
 */
export async function addressFrom(given: string | undefined): Promise<Address> {
  const fromVariable = process.env[VARIABLE];
  if (given === undefined) {
    if (fromVariable !== undefined && fromVariable !== '') return parsed(fromVariable, VARIABLE);
    throw new Problem(
      'usage',
      `--queue: expected where the queue is, such as redis://192.168.1.20:6379, found nothing; name it, or set ${VARIABLE}`,
    );
  }
  if (!given.includes('://')) {
    const text = await readText(given, 'a file whose first line is the address of a queue', MOST_BYTES);
    return parsed((text.split('\n')[0] as string).trim(), given);
  }
  const address = parsed(given, '--queue');
  if (address.password === null) return address;
  throw new Problem(
    'usage',
    `--queue: expected an address without a password, because others on this machine can read command lines; put it into ${VARIABLE}, or into a file that only you can read and name that`,
  );
}

/** @param where it was read, for messages */
function parsed(text: string, where: string): Address {
  const refuse = (found: string): never => {
    throw new Problem(
      'usage',
      `${where}: expected an address such as redis://192.168.1.20:6379, rediss:// (encrypted) or unix:///run/redis/redis.sock, found ${found}`,
    );
  };
  if (!URL.canParse(text)) return refuse(`something else; ${ESCAPES}`);
  const url = new URL(text);
  // They end the part before them, so that what was meant as a password would be shown as a host.
  if (url.search !== '' || url.hash !== '') return refuse(`a ? or a #; ${ESCAPES}`);
  const decoded = (encoded: string): string => {
    try {
      return decodeURIComponent(encoded);
    } catch {
      return refuse('a % that stands for nothing; write it as %25');
    }
  };
  const part = (encoded: string) => (encoded === '' ? null : decoded(encoded));
  const who = { user: part(url.username), password: part(url.password) };
  if (url.protocol === 'unix:') {
    if (url.pathname.length < 2) return refuse('no path');
    return { connect: { path: decoded(url.pathname) }, ...who, shown: `unix://${url.pathname}` };
  }
  if (url.protocol !== 'redis:' && url.protocol !== 'rediss:') return refuse(quoted(url.protocol));
  if (url.hostname === '') return refuse('no host');
  const db = url.pathname.length < 2 ? 0 : Number(url.pathname.slice(1));
  if (!Number.isInteger(db) || db < 0) return refuse('a database that is no number');
  const port = url.port === '' ? USUAL_PORT : Number(url.port);
  // An address of version 6 stands in brackets in a URL alone.
  const host = url.hostname.replace(/^\[|\]$/g, '');
  return {
    connect: { host, port, db, tls: url.protocol === 'rediss:' },
    ...who,
    shown: `${url.protocol}//${url.hostname}:${port}${db === 0 ? '' : `/${db}`}`,
  };
}
