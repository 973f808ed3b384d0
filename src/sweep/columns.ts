/** What is counted of a frame: the largest connected region that changed, or all pixels that did. */
export type AreaKind = 'region' | 'changed';

/** For each level a count for each analysed frame of a clip. */
export type Columns = Map<number, Uint32Array>;

/** How much changed in each analysed frame of a clip, by levels. */
export interface ColumnSource {
  /** @param levels whole numbers from the lowest kept to 255 */
  columns(levels: readonly number[], kind: AreaKind): Promise<Columns>;
  /** Both kinds at once, in little more than half the time that asking for one after the other takes. */
  bothColumns(levels: readonly number[]): Promise<Record<AreaKind, Columns>>;
}

/** How much changed within the boxes of visits, of the camera's kind. */
export interface BoxSource {
  /** For each level a count for each row of a clip's outcomes. */
  columns(levels: readonly number[]): Promise<Columns>;
}

/** A source of columns that are at hand one by one. */
export function columnsFrom(column: (level: number, kind: AreaKind) => Uint32Array): ColumnSource {
  const of = (levels: readonly number[], kind: AreaKind): Columns =>
    new Map(levels.map((level) => [level, column(level, kind)]));
  return {
    columns: async (levels, kind) => of(levels, kind),
    bothColumns: async (levels) => ({ region: of(levels, 'region'), changed: of(levels, 'changed') }),
  };
}
