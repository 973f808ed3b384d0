/** What is being worked out, how much of it is done as far as that is known, and a way to stop it. */
export function Working({
  phase,
  share,
  left = null,
  onStop,
}: {
  phase: string;
  /** 0 to 1; null where it is not known. */
  share: number | null;
  /** How long it will still take, in words, where that is known. */
  left?: string | null;
  onStop: () => void;
}) {
  return (
    <div>
      <p role="status">{phase}</p>
      <progress aria-label={phase} {...(share !== null && { value: share })} />
      {left !== null && <p class="note">{left}</p>}
      <button type="button" onClick={onStop}>
        Stop
      </button>
    </div>
  );
}
