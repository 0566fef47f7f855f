/** Two points nearer than this are one point: far below a program's own rounding (0.1 µm at best), mm. */
export const SAME_POINT_MM = 1e-7;

/**
 * Largest gap between the offset paths of two neighbouring blocks that a controller bridges by a straight move, mm.
 * Rounded end points of tangent blocks leave gaps up to about offset × rounding / radius.
 */
export const JOIN_GAP_MM = 0.001;

/** How far below the true extreme a reported undercut or rest may lie, mm (0.02 µm). */
export const RESOLUTION_MM = 2e-5;

/** A register holding a rounded offset is right within half a step of a third decimal, mm. */
export const REGISTER_ROUNDING_MM = 0.000501;

/** A pass has reached a place when its wire centre came nearer than its offset plus this much, mm (text rounding and corner lag of tangent joins). */
export const REACH_MM = 0.001;

/** Search distance for material left: what lies farther from every kerf counts as uncut, mm. */
export const UNCUT_MM = 1;

/** Stock a skim takes may differ from the ladder by this much, mm, or by {@link STOCK_SHARE}, whichever is more. */
export const STOCK_BAND_MM = 0.002;

/** Share of the ladder's stock by which a skim may differ from it. */
export const STOCK_SHARE = 0.1;
