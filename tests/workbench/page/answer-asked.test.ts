import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import type { Labels } from '../../../src/score/labels.js';
import type { ClipOpened, LabelsState, WorkspaceInfo } from '../../../src/workbench/protocol.js';

/** The page's own modules. */
async function page() {
  const [clips, labels, answer, workspace] = await Promise.all([
    import('../../../src/workbench/page/state/clip.js'),
    import('../../../src/workbench/page/state/labels.js'),
    import('../../../src/workbench/page/state/answer.js'),
    import('../../../src/workbench/page/state/workspace.js'),
  ]);
  return { ...clips, ...labels, ...answer, ...workspace };
}

let own: Awaited<ReturnType<typeof page>>;
const asked: string[] = [];
let putting: (answer: Response) => void = () => undefined;

/** A server that takes its time to write labels, and finds an answer at once. */
async function server(address: string, { method }: RequestInit = {}): Promise<Response> {
  asked.push(`${method} ${address}`);
  if (method === 'PUT') return new Promise((done) => (putting = done));
  if (address === 'api/tune') return new Response(`${JSON.stringify({ result: { id: 'a', sites: [] } })}\n`);
  return new Promise(() => undefined);
}

const of = (...starts: number[]): Labels => ({
  version: 1,
  visits: starts.map((start) => ({ start, end: start + 1, type: 'animal' })),
});
const state = (labels: Labels, revision: string): LabelsState => ({ labels, revision, file: 'answered' });

beforeAll(async () => {
  vi.stubGlobal('window', { clearTimeout: () => undefined, setTimeout: () => 0 });
  vi.stubGlobal('document', { hidden: true });
  vi.stubGlobal('fetch', server);
  own = await page();
  const labels = state(of(1), '1');
  own.clip.value = { id: 'answered', times: [0, 1], seconds: 60, labels } as unknown as ClipOpened;
  own.takeLabels('answered', labels);
  own.workspace.value = { camera: defaultCamera, clips: [], settings: [] } as unknown as WorkspaceInfo;
});
afterAll(() => {
  own.clip.value = null;
  own.workspace.value = null;
  vi.unstubAllGlobals();
});

const ask = (clip: string) =>
  own.askWhatToUse({ clips: [clip], wanted: { worth: 10 }, now: null, recordedOnly: true });

it('what to use is asked only once all that was marked is on disk, and is stale once more is', async () => {
  own.change('a visit', () => of(1, 5));
  const answering = ask('answered');
  await expect.poll(() => asked.filter((one) => one.startsWith('PUT'))).toHaveLength(1);
  expect(asked).not.toContain('POST api/tune');
  putting(Response.json(state(of(1, 5), '2')));
  await answering;
  expect(asked).toContain('POST api/tune');
  expect(own.asking.value.kind).toBe('answered');
  expect(own.isStale.value).toBe(false);
  own.change('what it was', (now) => ({ ...now, causes: [{ start: 0, end: 1, cause: 'wind' }] }));
  expect(own.isStale.value).toBe(false);
  own.change('another visit', () => of(1, 5, 9));
  expect(own.isStale.value).toBe(true);
  own.undo();
  expect(own.isStale.value).toBe(false);
  own.workspace.value = { ...own.workspace.value!, camera: { ...defaultCamera, name: 'two' } };
  expect(own.isStale.value).toBe(true);
});

it('nothing is asked while labels are in two versions', async () => {
  asked.length = 0;
  const until = (end: number): Labels => ({ version: 1, visits: [{ start: 1, end, type: 'animal' }] });
  own.takeLabels('contested', state(until(2), '1'));
  own.change('its end', () => until(3));
  const answering = ask('contested');
  await expect.poll(() => asked.filter((one) => one.startsWith('PUT'))).toHaveLength(1);
  const there = { code: 'changed-meanwhile', message: 'changed', ...state(until(4), '9') };
  putting(Response.json(there, { status: 409 }));
  await answering;
  expect(own.asking.value).toMatchObject({
    kind: 'refused',
    why: expect.stringContaining('contested: labels.json was changed in two places'),
  });
  expect(asked).not.toContain('POST api/tune');
});
