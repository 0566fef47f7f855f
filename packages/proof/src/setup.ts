/** The proof sees the program text, the drawing, and these facts of the set-up; they are declared beside the program. */
export type { DrawnFeature as ProofFeature, SetUpFacts as ProofSetup } from '@gapwright/program';
