/** The little of jstat that is used here; the package brings no types. */
declare module 'jstat' {
  const jstat: {
    beta: {
      /** Quantile of the Beta distribution: p 0–1, alpha > 0, beta > 0. */
      inv(p: number, alpha: number, beta: number): number;
      /** Distribution function of the Beta distribution. */
      cdf(x: number, alpha: number, beta: number): number;
    };
  };
  export default jstat;
}
