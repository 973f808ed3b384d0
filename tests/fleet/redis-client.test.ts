import { expect, it } from 'vitest';
import { Problem } from '../../src/base/problem.js';
import { addressFrom } from '../../src/fleet/address.js';
import { faultOf } from '../../src/fleet/redis-client.js';

const SECRET = 'sparrows-in-the-hedge';

/** As the clients throw them: their words, their codes, their names. */
const errors: [string, object, RegExp][] = [
  [
    'self-signed certificate',
    { code: 'DEPTH_ZERO_SELF_SIGNED_CERT' },
    /its certificate is none that this machine/,
  ],
  [
    'not in the altnames',
    { code: 'ERR_TLS_CERT_ALTNAME_INVALID' },
    /its certificate is none that this machine/,
  ],
  [
    'wrong version number',
    { code: 'ERR_SSL_WRONG_VERSION_NUMBER' },
    /cannot be reached \(ERR_SSL_WRONG_VERSION_NUMBER\);/,
  ],
  [
    'connect ECONNREFUSED',
    { code: 'ECONNREFUSED', syscall: 'connect' },
    /cannot be reached \(ECONNREFUSED\); start/,
  ],
  [
    `MISCONF Errors writing to the AOF file ${SECRET}`,
    { name: 'ReplyError' },
    /it cannot write to its disk; free/,
  ],
  [
    `DENIED Redis is running in protected mode ${SECRET}`,
    { name: 'ReplyError' },
    /it answers no other machine, .*protected/,
  ],
  [
    `ERR DB index is out of range ${SECRET}`,
    { name: 'ReplyError' },
    /it has no database of that number; mend/,
  ],
  [`CROSSSLOT Keys ${SECRET}`, { name: 'ReplyError' }, /it refuses \(CROSSSLOT\); see its log$/],
];

it.each(errors)('%s', async (message, more, line) => {
  const address = await addressFrom('redis://hut:6380/1');
  const told = faultOf(Object.assign(new Error(message), more), address);
  expect(told).toBeInstanceOf(Problem);
  expect((told as Problem).message).toMatch(/^the queue at redis:\/\/hut:6380\/1: /);
  expect((told as Problem).message).toMatch(line);
  expect((told as Problem).message).not.toContain(SECRET);
});

it('leaves faults of our own as they are', async () => {
  const fault = new TypeError('no such property');
  expect(faultOf(fault, await addressFrom('redis://hut'))).toBe(fault);
});
