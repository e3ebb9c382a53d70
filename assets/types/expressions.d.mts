/** What the build makes of a job's expressions: text to value and limits. */
export const expressions: Record<string, {
  value: (environment: any) => any;
  limits: { name: string; op: string; of: any; limit: (environment: any) => any }[];
}>;
