/** How long anything that is waited for may take before it is given up: a guard against hanging, on a machine as busy as can be. No bound on speed. */
export const PATIENCE_MS = 60_000;
