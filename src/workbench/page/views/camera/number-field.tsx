import { useEffect, useState } from 'preact/hooks';

/** A number typed in; what is none, or out of reach, is said and changes nothing. */
export function NumberField(asked: {
  label: string;
  value: number;
  least: number;
  most: number;
  /** Whether it need not be whole. */
  fraction?: boolean;
  onChange: (value: number) => void;
}) {
  const { label, value, least, most, fraction = false } = asked;
  const [text, setText] = useState(String(value));
  useEffect(() => {
    if (Number(text) !== value) setText(String(value));
  }, [value]);
  const typed = Number(text);
  const fits = text.trim() !== '' && typed >= least && typed <= most && (fraction || Number.isInteger(typed));
  return (
    <label class="number">
      <input
        inputMode={fraction ? 'decimal' : 'numeric'}
        value={text}
        aria-invalid={!fits}
        onInput={(event) => {
          const now = event.currentTarget.value;
          setText(now);
          const x = Number(now);
          if (now.trim() !== '' && x >= least && x <= most && (fraction || Number.isInteger(x)))
            asked.onChange(x);
        }}
      />{' '}
      {label}
      {!fits && (
        <span class="why" role="alert">
          {' '}
          expected {fraction ? 'a number' : 'a whole number'} from {least} to {most}
        </span>
      )}
    </label>
  );
}
