// Package solver runs the stages from a job to its answer: the survey's most
// likely shape, the build-up, the rules, the boards and their proved cut cards.
//
// Solve is pure: it reads no clock, no file and no random source, and the same
// job and tables give the same answer. It refuses nothing that a job can hold
// once Validate has no Block finding; what cannot be made or must not be cut
// is said in the answer's findings.
package solver
