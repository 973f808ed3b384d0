/** Chooses at random; `one` of a list. */
export type Chance = () => number;

export function one<T>(chance: Chance, of: readonly T[]): T {
  return of[Math.floor(chance() * of.length)]!;
}

/** What no field expects, as JSON text. */
const ODD = [
  ...[
    'null',
    'true',
    '0',
    '-1',
    '1',
    '2',
    '0.5',
    '1e-320',
    '1e308',
    '-1e308',
    '1e999',
    '9007199254740993',
    '4294967296',
  ],
  ...[
    '""',
    '" "',
    '"x"',
    '"-1"',
    '"\\u0000"',
    '"../.."',
    '"/etc/passwd"',
    '"clip.json"',
    '"\\ud800"',
    '"é.jpg"',
  ],
  ...[
    '[]',
    '[[]]',
    '[null]',
    '{}',
    '{"__proto__":1}',
    '[0,0]',
    '[1,0]',
    '[[0,0],[1,1],[0,1]]',
    '"0:07"',
    '"2026-13-40T99:00:00Z"',
  ],
  ...[`"${'long '.repeat(200)}"`, `[${'1,'.repeat(999)}1]`, `${'['.repeat(50)}${']'.repeat(50)}`],
];

/** One value of a JSON text made odd, left out or doubled, or two swapped; now and then its bytes instead. */
export function mutateJson(text: string, chance: Chance): Buffer {
  if (chance() < 0.2) return mutateBytes(Buffer.from(text), chance);
  const value: unknown = JSON.parse(text);
  const places: { holder: Record<string, unknown> | unknown[]; key: string }[] = [];
  const walk = (holder: unknown): void => {
    if (typeof holder !== 'object' || holder === null) return;
    for (const key of Object.keys(holder)) {
      places.push({ holder: holder as Record<string, unknown>, key });
      walk((holder as Record<string, unknown>)[key]);
    }
  };
  walk(value);
  const { holder, key } = one(chance, places);
  const at = holder as Record<string, unknown>;
  const mark = '@@odd@@';
  switch (Math.floor(chance() * 6)) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete at[key];
      break;
    case 1:
      if (Array.isArray(holder)) holder.push(structuredClone(at[key]));
      else at[`${key}${one(chance, ['', ' ', 's', '_'])}2`] = at[key];
      break;
    case 2: {
      const other = one(chance, places);
      const swapped = (other.holder as Record<string, unknown>)[other.key];
      at[key] = structuredClone(swapped);
      break;
    }
    case 3:
      if (typeof at[key] === 'number') at[key] = at[key] * one(chance, [-1, 0, 1e-9, 0.1, 10, 1000, 1e9]);
      else at[key] = mark;
      break;
    default:
      at[key] = mark;
  }
  return Buffer.from(JSON.stringify(value, null, 1).replace(`"${mark}"`, one(chance, ODD)));
}

/** A byte flipped, bytes taken out, put in, zeroed, doubled or put elsewhere, or the end cut off. */
export function mutateBytes(bytes: Buffer, chance: Chance): Buffer {
  const place = () => Math.floor(chance() * bytes.length);
  // Heads say most, so half of the harm is done there.
  const near = () => (chance() < 0.5 ? Math.floor(chance() * Math.min(64, bytes.length)) : place());
  const from = near();
  const length = 1 + Math.floor(chance() ** 4 * 64);
  const part = bytes.subarray(from, from + length);
  const around = (middle: Uint8Array) =>
    Buffer.concat([bytes.subarray(0, from), middle, bytes.subarray(from + length)]);
  switch (Math.floor(chance() * 8)) {
    case 0:
      return bytes.subarray(0, place());
    case 1:
      return around(Buffer.alloc(0));
    case 2:
      return around(Buffer.alloc(length));
    case 3:
      return around(Buffer.concat([part, part]));
    case 4:
      return around(Buffer.from(Array.from(part, () => Math.floor(chance() * 256))));
    case 5:
      return around(Buffer.alloc(length, 0xff));
    default: {
      const flipped = Buffer.from(bytes);
      for (let n = 1 + Math.floor(chance() * 3); n > 0; n--)
        flipped[near()]! ^= 1 << Math.floor(chance() * 8);
      return flipped;
    }
  }
}
