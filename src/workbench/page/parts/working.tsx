/** What is being worked out, how much of it is done as far as that is known, and a way to stop it. */
export function Working({
  phase,
  share,
  onStop,
}: {
  phase: string;
  /** 0 to 1; null where it is not known. */
  share: number | null;
  onStop: () => void;
}) {
  return (
    <div>
      <p role="status">{phase}</p>
      <progress aria-label={phase} {...(share !== null && { value: share })} />
      <button type="button" onClick={onStop}>
        Stop
      </button>
    </div>
  );
}
