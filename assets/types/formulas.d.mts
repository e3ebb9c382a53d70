/** What the build makes of builder/formulas/: every public function, and what each takes and gives. */
export const functions: Record<string, (...inputs: any[]) => any>;
export const signatures: Record<string, any>;
