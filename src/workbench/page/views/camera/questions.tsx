import type { ComponentChildren } from 'preact';
import type { Camera } from '../../../../camera/description.js';
import { NumberField } from '../../parts/number-field.js';
import { set } from './draft.js';
import { AsItSees, Burst, Comparing, Looking, Patches, WhileBusy } from './pictures.js';

const SIZES = [
  [160, 120],
  [320, 240],
  [640, 480],
] as const;

/** One question: what is asked, a picture of what the answer changes, and the answer. */
function Question(asked: {
  title: string;
  help: string;
  picture: ComponentChildren;
  children: ComponentChildren;
}) {
  return (
    <fieldset class="question">
      <legend>{asked.title}</legend>
      <div class="picture">{asked.picture}</div>
      <div>
        <p class="note">{asked.help}</p>
        {asked.children}
      </div>
    </fieldset>
  );
}

/** What decides when the camera fires, question by question. */
export function Questions({ camera }: { camera: Camera }) {
  const { analysis, reference, area, burst, shutterLag } = camera;
  const usual = SIZES.some(([width, height]) => width === analysis.width && height === analysis.height);
  const looks = (part: Partial<Camera['analysis']>) => set({ analysis: { ...analysis, ...part } });
  return (
    <>
      <label class="field">
        <span>What do you call it?</span>
        <input value={camera.name} onInput={(e) => set({ name: e.currentTarget.value })} />
      </label>
      <Question
        title="How large are the pictures that it compares?"
        help="Smaller than its photos, as a rule. Small animals vanish in small pictures; large pictures take it longer."
        picture={<AsItSees width={analysis.width} height={analysis.height} smooth={analysis.smooth} />}
      >
        <Choices
          name="size"
          value={usual ? `${analysis.width}x${analysis.height}` : 'other'}
          options={[
            ...SIZES.map(([w, h]) => [`${w}x${h}`, `${w} by ${h} pixels`] as const),
            ['other', 'another size'],
          ]}
          onChange={(chosen) => {
            const [w, h] = chosen.split('x').map(Number);
            if (w && h) looks({ width: w, height: h });
            else looks({ width: analysis.width + 1 });
          }}
        />
        {!usual && (
          <p class="row">
            <NumberField
              label="wide"
              value={analysis.width}
              least={1}
              most={8192}
              onChange={(width) => looks({ width })}
            />
            <NumberField
              label="high"
              value={analysis.height}
              least={1}
              most={8192}
              onChange={(height) => looks({ height })}
            />
          </p>
        )}
        <p class="row">
          <NumberField
            label="Blurred before comparing, by so many pixels all round (0: not)"
            value={analysis.smooth}
            least={0}
            most={64}
            onChange={(smooth) => looks({ smooth })}
          />
        </p>
      </Question>
      <Question
        title="How often does it look?"
        help="Between two looks it sees nothing. A wren can be gone within a second."
        picture={<Looking rate={analysis.rate} />}
      >
        <NumberField
          label="times a second"
          value={analysis.rate}
          least={0.00001}
          most={1000}
          fraction
          onChange={(rate) => looks({ rate })}
        />
      </Question>
      <Question
        title="What does it compare each picture with?"
        help="With the one before, only what moves now counts. With an average, what came and stays counts for a while, too."
        picture={<Comparing kind={reference.kind} lag={reference.kind === 'previous' ? reference.lag : 1} />}
      >
        <Choices
          name="reference"
          value={reference.kind}
          options={[
            ['previous', 'with an earlier picture'],
            ['average', 'with an average of the last while'],
          ]}
          onChange={(kind) =>
            set({
              reference:
                kind === 'previous'
                  ? { kind: 'previous', lag: 1, whileBusy: reference.whileBusy }
                  : { kind: 'average', seconds: 2, whileBusy: reference.whileBusy },
            })
          }
        />
        {reference.kind === 'previous' ? (
          <NumberField
            label="pictures back"
            value={reference.lag}
            least={1}
            most={100_000}
            onChange={(lag) => set({ reference: { ...reference, lag } })}
          />
        ) : (
          <NumberField
            label="seconds until it has taken over most of a change"
            value={reference.seconds}
            least={0.001}
            most={86_400}
            fraction
            onChange={(seconds) => set({ reference: { ...reference, seconds } })}
          />
        )}
      </Question>
      <Question
        title="And while it takes its photos?"
        help="If you do not know, leave the first: with the others only the command line can try settings."
        picture={<WhileBusy kind={reference.whileBusy} />}
      >
        <Choices
          name="busy"
          value={reference.whileBusy}
          options={[
            ['continues', 'it goes on comparing as before'],
            ['frozen', 'what it compares with stands still until it is done'],
            ['restarts', 'it starts anew with the first picture afterwards'],
          ]}
          onChange={(whileBusy) =>
            set({ reference: { ...reference, whileBusy: whileBusy as typeof reference.whileBusy } })
          }
        />
      </Question>
      <Question
        title="What must be large enough for it to fire?"
        help="One patch: leaves that stir all over do not add up. All together: they do."
        picture={<Patches kind={area} />}
      >
        <Choices
          name="area"
          value={area}
          options={[
            ['region', 'the largest patch of changed pixels'],
            ['changed', 'all changed pixels together'],
          ]}
          onChange={(kind) => set({ area: kind as Camera['area'] })}
        />
      </Question>
      <Question
        title="When it fires, when does it take photos?"
        help="Film a clock while you wave at the camera, and look at what its photos show."
        picture={<Burst lag={shutterLag} photos={burst.photos} interval={burst.interval} />}
      >
        <p class="row">
          <NumberField
            label="seconds until the first photo"
            value={shutterLag}
            least={0}
            most={3600}
            fraction
            onChange={(lag) => set({ shutterLag: lag })}
          />
          <NumberField
            label="photos"
            value={burst.photos}
            least={1}
            most={1000}
            onChange={(photos) => set({ burst: { ...burst, photos } })}
          />
          <NumberField
            label="seconds between them"
            value={burst.interval}
            least={0}
            most={3600}
            fraction
            onChange={(interval) => set({ burst: { ...burst, interval } })}
          />
        </p>
      </Question>
    </>
  );
}

function Choices(asked: {
  name: string;
  value: string;
  options: readonly (readonly [string, string])[];
  onChange: (chosen: string) => void;
}) {
  return (
    <div class="options">
      {asked.options.map(([value, words]) => (
        <label key={value}>
          <input
            type="radio"
            name={asked.name}
            checked={value === asked.value}
            onChange={() => asked.onChange(value)}
          />{' '}
          {words}
        </label>
      ))}
    </div>
  );
}
