import { useEffect, useState } from 'preact/hooks';

/** A number typed in; what is none, or out of reach, is said and changes nothing. */
export function NumberField(asked: {
  label: string;
  /** What is read beside it, where its label stands by itself too. */
  after?: string;
  value: number;
  least: number;
  most: number;
  /** Whether it may be 0 as well. */
  orNone?: boolean;
  /** Whether it need not be whole. */
  fraction?: boolean;
  onChange: (value: number) => void;
}) {
  const { label, after, value, least, most, orNone = false, fraction = false } = asked;
  const [text, setText] = useState(String(value));
  useEffect(() => {
    if (Number(text) !== value) setText(String(value));
  }, [value]);
  const isOne = (typed: string) => {
    const x = Number(typed);
    const isWithin = (x >= least && x <= most) || (orNone && x === 0);
    return typed.trim() !== '' && isWithin && (fraction || Number.isInteger(x));
  };
  const fits = isOne(text);
  return (
    <label class="number">
      <input
        inputMode={fraction ? 'decimal' : 'numeric'}
        value={text}
        aria-label={after === undefined ? undefined : label}
        aria-invalid={!fits}
        onInput={(event) => {
          const now = event.currentTarget.value;
          setText(now);
          if (isOne(now)) asked.onChange(Number(now));
        }}
      />{' '}
      {after ?? label}
      {!fits && (
        <span class="why" role="alert">
          {' '}
          expected {orNone && '0, or '}
          {fraction ? 'a number' : 'a whole number'} from {least} to {most}
        </span>
      )}
    </label>
  );
}

/** Numbers typed in, with commas or spaces between; what is none is said, and changes nothing. */
export function NumbersField(asked: {
  label: string;
  values: readonly number[];
  onChange: (values: number[]) => void;
}) {
  const { label, values, onChange } = asked;
  const [text, setText] = useState(values.join(', '));
  const typed = numbersIn(text);
  useEffect(() => {
    if (String(numbersIn(text)) !== String(values)) setText(values.join(', '));
  }, [String(values)]);
  return (
    <label class="list">
      <span>{label}</span>
      <input
        value={text}
        aria-invalid={typed === null}
        onInput={({ currentTarget }) => {
          setText(currentTarget.value);
          const now = numbersIn(currentTarget.value);
          if (now) onChange(now);
        }}
      />
      {typed === null && (
        <span class="why" role="alert">
          expected numbers with commas between
        </span>
      )}
    </label>
  );
}

function numbersIn(text: string): number[] | null {
  const numbers = text
    .split(/[\s,;]+/)
    .filter((one) => one !== '')
    .map(Number);
  return numbers.length > 0 && numbers.every(Number.isFinite) ? numbers : null;
}
