export interface Brewery {
  readonly name: string;
  readonly units: 'metric' | 'us';
  readonly paper: 'a4' | 'letter';
  readonly author: string | null;
  /** Absolute address of the published site with a trailing slash, or null. */
  readonly url: string | null;
  /** BCP 47. */
  readonly language: string;
}
