/** Quarter turns clockwise that set a plate front up. */
export type Turn = 0 | 1 | 2 | 3;

export const TURNS: readonly Turn[] = [0, 1, 2, 3];
