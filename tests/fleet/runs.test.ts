import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import sharp from 'sharp';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { addressFrom } from '../../src/fleet/address.js';
import { openQueue } from '../../src/fleet/open-queue.js';
import { ownProgram } from '../../src/fleet/program.js';
import { small } from '../support/clips.js';
import { type Command, commandIn, messagesIn } from '../support/command.js';
import {
  clips,
  fleetOn,
  resultsIn,
  settings,
  sharedFolder,
  suite,
  workerInTheMidst,
} from '../support/fleet.js';
import { hasRedis, NO_REDIS, Redis } from '../support/redis.js';
import { scratch } from '../support/workbench.js';

if (!hasRedis) console.log(NO_REDIS);

describe.skipIf(!hasRedis)('runs of a fleet', () => {
  const redis = new Redis();
  let shared: string;
  let perchmark: Command;
  let fleet: ReturnType<typeof fleetOn>;

  beforeAll(() => redis.start());
  afterAll(() => redis.remove());
  beforeEach(async () => {
    // What a fleet of another test left there would be taken for what this one's did.
    redis.say('FLUSHALL');
    shared = await sharedFolder(scratch());
    perchmark = commandIn(shared, scratch());
    fleet = fleetOn(perchmark, redis.address);
  });

  const write = (name: string, value: unknown) =>
    writeFileSync(join(shared, name), typeof value === 'string' ? value : JSON.stringify(value));
  const ownQueue = async () => {
    const { id } = JSON.parse(readFileSync(join(shared, 'fleet', 'fleet.json'), 'utf8')) as { id: string };
    return openQueue(await addressFrom(redis.address), id, ownProgram(), { onWarning: () => undefined });
  };

  /** Files of what was found of sites that were tuned. */
  const answersKept = () => {
    const answers = join(shared, 'fleet', 'kept', 'answers');
    return readdirSync(answers).map((name) => join(answers, name));
  };

  it('that were lost with the queue are told, and submitted again', async () => {
    await fleet.submit('suite.json');
    redis.say('FLUSHALL');
    const worked = await fleet.work();
    expect(worked.code).toBe(2);
    expect(worked.err).toMatch(
      /suite-check-\w+: its jobs are not in this queue, which was emptied, or is another; submit suite.json again$/m,
    );
    const status = await fleet.status();
    expect(status.code).toBe(2);
    expect(status.out).toContain('its jobs are not in this queue');
    expect((await fleet.told()).runs).toMatchObject([{ state: 'lost' }]);
    // Another title: another run of the same clips, whose jobs are those of the first but for the last.
    write('suite.json', { ...suite(), title: 'again' });
    await fleet.submit('suite.json');
    expect(messagesIn((await fleet.work()).err)).toEqual([]);
    expect((await fleet.told()).runs).toMatchObject([{ state: 'ended' }]);
  });

  it('of one list under several cameras are each told where they were lost', async () => {
    const cameras = ['camera.json', 'small-and-slow'];
    for (const camera of cameras) await fleet.submit('list.txt', '--verb', 'tune', '--camera', camera);
    redis.say('FLUSHALL');
    expect((await fleet.told()).runs.map(({ state }) => state)).toEqual(['lost', 'lost']);
    for (const camera of cameras) await fleet.submit('list.txt', '--verb', 'tune', '--camera', camera);
    await fleet.work();
    expect((await fleet.told()).runs.map(({ state }) => state)).toEqual(['ended', 'ended']);
  });

  it('of another version are told no more once the same was submitted anew', async () => {
    await fleet.submit('suite.json');
    const folder = join(shared, 'fleet', 'results', Object.keys(resultsIn(shared))[0]!);
    const run = JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8'));
    run.program.version = '0.0.7';
    write('now.json', { version: 1, threshold: 30, minimumArea: 16, cooldown: 1 });
    writeFileSync(join(folder, 'run.json'), JSON.stringify(run));
    redis.say('FLUSHALL');
    expect((await fleet.work()).err).toMatch(/^perchmark: .*0\.0\.7 \(engine/m);
    await fleet.submit('suite.json');
    expect((await fleet.work()).err).not.toContain('0.0.7');
    expect((await fleet.told()).runs).toMatchObject([{ state: 'ended' }]);
  });

  it('tell which clip was changed meanwhile', async () => {
    await fleet.submit('suite.json');
    write('clips/cedar/labels.json', { version: 1, visits: [{ start: 0, end: 0.5 }] });
    await fleet.work();
    expect((await fleet.told()).runs[0]!.troubles).toEqual([
      {
        clips: ['clips/cedar'],
        message: expect.stringMatching(
          /^clips\/cedar: was changed while this went on, .*; submit suite.json again$/,
        ),
      },
    ]);
    expect(JSON.parse((await fleet.submit('suite.json', '--json')).out)).toMatchObject({ ended: false });
    await fleet.work();
    expect((await fleet.told()).runs[0]!.troubles).toEqual([]);
  });

  it('do not tune a site again that somebody tuned whose lease had lapsed', async () => {
    await fleet.submit('suite.json', '--verb', 'tune');
    await fleet.work();
    const before = resultsIn(shared);
    // Nobody remembers who did what.
    redis.say('FLUSHALL');
    rmSync(join(shared, 'fleet', 'results'), { recursive: true });
    await fleet.submit('suite.json', '--verb', 'tune');
    const facts = () => answersKept().map((file) => statSync(file).ino);
    const kept = facts();
    await fleet.work();
    expect(facts()).toEqual(kept);
    expect(Object.values(resultsIn(shared))[0]!.document).toBe(Object.values(before)[0]!.document);
  });

  it('keep no answer of a site of which pictures were replaced by others of the same size meanwhile', async () => {
    const frames = join(shared, 'clips', 'cedar', 'frames');
    const file = join(frames, readdirSync(frames)[7]!);
    // Of pictures that are not compressed the size tells nothing.
    const picture = (level: number) =>
      sharp({ create: { ...small, channels: 3, background: { r: level, g: level, b: level } } })
        .toColourspace('b-w')
        .png({ compressionLevel: 0 })
        .toBuffer();
    writeFileSync(file, await picture(90));
    utimesSync(file, 1_700_000_000, 1_700_000_000);
    const { size } = statSync(file);
    await fleet.submit('suite.json', '--verb', 'tune');
    writeFileSync(file, await picture(200));
    expect(statSync(file).size).toBe(size);
    await fleet.work();
    expect(answersKept()).toHaveLength(1);
    expect((await fleet.told()).runs[0]!.troubles).toMatchObject([{ clips: ['clips/cedar'] }]);
  });

  it('tune their sites without what else the run is of', async () => {
    await fleet.submit('suite.json', '--verb', 'tune');
    const results = join(shared, 'fleet', 'results');
    rmSync(join(results, readdirSync(results)[0]!, 'run.json'));
    // What writes the document cannot do without, but there is nothing amiss with the worker.
    const { code, err } = await fleet.work();
    expect(code).toBe(0);
    expect(err).toMatch(/run\.json: there is no such file/);
    expect(answersKept()).toHaveLength(2);
  });

  it('keep no answer of a site of which a clip was changed meanwhile', async () => {
    await fleet.submit('suite.json', '--verb', 'tune');
    const labels = join(shared, 'clips', 'cedar', 'labels.json');
    const whole = readFileSync(labels);
    write('clips/cedar/labels.json', { version: 1, visits: [{ start: 0, end: 0.5 }] });
    await fleet.work();
    writeFileSync(labels, whole);
    rmSync(join(shared, 'fleet', 'results'), { recursive: true });
    await fleet.submit('suite.json', '--verb', 'tune');
    await fleet.work();
    const alone = await perchmark('tune', ...clips(), '--camera', 'camera.json', '--json');
    expect(Object.values(resultsIn(shared))[0]!.document).toBe(alone.out);
  });

  it.each(['SIGTERM', 'SIGINT'] as const)('%s: a worker gives its job back at once', async (signal) => {
    await fleet.submit('suite.json', '--verb', 'tune');
    const mark = join(scratch(), 'reads');
    const { child, ended } = await workerInTheMidst(mark, shared, redis.address, '--lease', '3600');
    expect(redis.say('KEYS', '*:held:*')).not.toBe('');
    expect(redis.say('KEYS', '*:lock')).not.toBe('');
    child.kill(signal);
    const { err } = await ended;
    expect(err).toContain('perchmark: stopped; what was finished is kept');
    // What was sent in the end is heard after it.
    while (redis.say('KEYS', '*:held:*') + redis.say('KEYS', '*:lock') !== '') await pause(50);
    expect((await fleet.told()).runs).toMatchObject([{ progress: { running: 0 } }]);
  });

  it('give a job back by the clock of the queue, not by that of the machine', async () => {
    await fleet.submit('suite.json');
    const real = Date.now;
    // An hour ahead.
    Date.now = () => real() + 3_600_000;
    try {
      const ahead = await ownQueue();
      await (await ahead.take())!.later(60_000);
      await ahead.close();
    } finally {
      Date.now = real;
    }
    const until = redis.say(
      'EVAL',
      "return redis.call('zrange', redis.call('keys', '*:delayed')[1], -1, -1, 'withscores')[2]",
      '0',
    );
    // The engine keeps times of its delayed jobs as milliseconds by 4096.
    expect(Number(until) / 4096 - real()).toBeLessThan(600_000);
  });
});

describe.skipIf(!hasRedis)('what is submitted', () => {
  const redis = new Redis();
  let shared: string;
  let perchmark: Command;
  let fleet: ReturnType<typeof fleetOn>;

  beforeAll(async () => {
    await redis.start();
  });
  afterAll(() => redis.remove());
  beforeEach(async () => {
    shared = await sharedFolder(scratch());
    perchmark = commandIn(shared, scratch());
    fleet = fleetOn(perchmark, redis.address);
  });
  const write = (name: string, value: unknown) =>
    writeFileSync(join(shared, name), typeof value === 'string' ? value : JSON.stringify(value));

  it('may have any name', async () => {
    const names = ['a \'b"c {x}:y*?[z]', '\u202eabc\nline', '-rf', 'x'.repeat(200)];
    for (const [i, clip] of clips().entries())
      renameSync(join(shared, clip), join(shared, 'clips', names[i]!));
    mkdirSync(join(shared, 'sub {d}:e'));
    const file = 'sub {d}:e/طيور.json';
    write(file, {
      ...suite(),
      clips: names.map((name) => `../clips/${name}`),
      camera: '../camera.json',
      settings: '../now.json',
    });
    await fleet.submit(file);
    await fleet.work();
    const results = resultsIn(shared);
    expect(Object.keys(results)).toEqual([expect.stringMatching(/^run-check-\w{12}$/)]);
    const alone = await perchmark('check', file, '--json');
    expect(Object.values(results)[0]!.document).toBe(alone.out);
  });

  it('may name a camera that ships', async () => {
    write('suite.json', { ...suite(), camera: 'small-and-slow' });
    await fleet.submit('suite.json');
    await fleet.work();
    const alone = await perchmark('check', 'suite.json', '--json');
    expect(Object.values(resultsIn(shared))[0]!.document).toBe(alone.out);
    expect(
      (
        await fleet.submit(
          'list.txt',
          '--verb',
          'diagnose',
          '--settings',
          'now.json',
          '--camera',
          'small-and-slow',
        )
      ).code,
    ).toBe(0);
    await fleet.work();
    expect((await fleet.told()).runs.map(({ state }) => state)).toEqual(['ended', 'ended']);
  });

  const listed: [string, string, RegExp][] = [
    [
      'is not there',
      'clips/alder\n\nclips/none\n',
      /list.txt: line 3: expected a clip folder .* nothing at clips\/none;/,
    ],
    [
      'stands there twice',
      'clips/alder\n./clips/alder/\n',
      /list.txt: line 2: clips\/alder stands there twice/,
    ],
    [
      'stands there twice, once by a link',
      'clips/alder\nclips/same\n',
      /list.txt: line 2: clips\/same stands there twice/,
    ],
    [
      'lies elsewhere, behind a link',
      'clips/far\n',
      /list.txt: expected clips, .* found "clips\/far", which lies elsewhere/,
    ],
  ];
  it.each(listed)('is refused where a clip %s', async (_, text, line) => {
    symlinkSync('alder', join(shared, 'clips', 'same'));
    symlinkSync(scratch(), join(shared, 'clips', 'far'));
    write('list.txt', text);
    const ran = await fleet.submit('list.txt', '--verb', 'tune');
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(line);
    expect(existsSync(join(shared, 'fleet', 'results'))).toBe(false);
  });

  it('is told in a report that leaves alone what the fleet keeps', async () => {
    await fleet.submit('suite.json');
    const before = readFileSync(join(shared, 'fleet', 'fleet.json'), 'utf8');
    const ran = await fleet.status('--report', 'fleet/fleet.json', '--force');
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(
      /^perchmark: --report fleet\/fleet.json: this lies in fleet, where the fleet keeps/,
    );
    expect(readFileSync(join(shared, 'fleet', 'fleet.json'), 'utf8')).toBe(before);
    rmSync(join(shared, 'fleet'), { recursive: true });
  });

  /** Of a project whose two spots have cameras of their own; one clip waits for labels. */
  function writeProject(settingsOfBowl: object): void {
    mkdirSync(join(shared, 'garden'));
    for (const clip of clips()) {
      const about = JSON.parse(readFileSync(join(shared, clip, 'clip.json'), 'utf8'));
      delete about.site;
      write(`${clip}/clip.json`, about);
      renameSync(join(shared, clip), join(shared, 'garden', clip.slice('clips/'.length)));
    }
    const camera = JSON.parse(readFileSync(join(shared, 'camera.json'), 'utf8'));
    write('garden/camera.json', camera);
    write('garden/perchmark.json', {
      version: 1,
      sites: [
        { site: 'log pile', clips: ['alder', 'birch'], settings: settings(46) },
        { site: 'water bowl', clips: ['cedar', 'elder'], settings: settingsOfBowl },
      ],
    });
  }

  it('may be a project: tuned as on one machine, with its sites, what is in use there, and clips without labels left out', async () => {
    writeProject(settings(30));
    rmSync(join(shared, 'garden', 'elder', 'labels.json'));
    const said = await fleet.submit('garden', '--verb', 'tune');
    expect(said.err).toContain('garden/elder: left out, because it has no labels.json yet');
    await fleet.work();
    const alone = await perchmark('tune', 'garden', '--json');
    expect(Object.values(resultsIn(shared))[0]!.document).toBe(alone.out);
    const { sites } = await fleet.told();
    expect(sites.map(({ site, source }) => [site, source])).toEqual([
      ['log pile', 'garden/perchmark.json'],
      ['water bowl', 'garden/perchmark.json'],
    ]);
  });

  it.each(['check', 'diagnose'] as const)('may be a project: %s', async (verb) => {
    writeProject(settings(46));
    await fleet.submit('garden/perchmark.json', '--verb', verb);
    await fleet.work();
    const alone = await perchmark(verb, 'garden', '--json');
    expect(Object.values(resultsIn(shared))[0]!.document).toBe(alone.out);
  });

  it('may be one spot of a project, where the verb takes one camera', async () => {
    writeProject(settings(30));
    const all = await fleet.submit('garden');
    expect(all.code).toBe(2);
    expect(all.err).toMatch(/check: expected spots with one camera .*; choose one with --site$/m);
    expect((await fleet.submit('suite.json', '--site', 'log pile')).err).toMatch(
      /^perchmark: --site: expected with a/,
    );
    await fleet.submit('garden', '--site', 'log pile');
    await fleet.work();
    const alone = await perchmark('check', 'garden', '--site', 'log pile', '--json');
    expect(Object.values(resultsIn(shared))[0]!.document).toBe(alone.out);
  });

  it('is refused where a clip names another site than its project', async () => {
    writeProject(settings(46));
    const file = 'garden/cedar/clip.json';
    write(file, { ...JSON.parse(readFileSync(join(shared, file), 'utf8')), site: 'compost heap' });
    const ran = await fleet.submit('garden', '--verb', 'tune');
    expect(ran.err).toMatch(
      /expected a clip of the site "water bowl", found one that names "compost heap" itself/,
    );
    expect(ran.code).toBe(2);
  });
});
