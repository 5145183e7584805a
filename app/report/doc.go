// Package report writes an answer in words, for a carpenter at a terminal, and
// as JSON, for other programs.
//
// It refuses to solve and to decide: it says what the answer says. Lengths in
// the text are in the job's units; in the JSON they are always millimetres, and
// angles radians.
//
// # What is always true
//
//  1. The same answer gives the same bytes.
//  2. No line of the text is wider than Width columns.
//  3. The text gives figures to set a saw by only for a board that is released.
//     For a board that is not, it gives a size to talk about, with how far it is
//     known; for a refused one, only the reason.
//  4. The JSON meets assets.AnswerSchema. A figure that is infinite or unknown
//     is left out.
package report
