/** What the build makes of shared/units.yaml, by symbol. */
export const units: Record<string, any>;
