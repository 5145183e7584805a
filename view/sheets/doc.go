// Package sheets lays out the papers of a job as pages of the display list: the
// survey sheet to take to the stair, the cut cards to take to the saw, the
// build-up with its findings to talk over, and the papers of the work: order,
// skirt boards, what to buy and how to cut it, wood movement, hours and days.
//
// It refuses to write files and to read clocks: the caller passes the date,
// that of the newest reading, so that the same job always gives the same bytes.
//
// # What is always true
//
//  1. Every page says which job, which survey revision and date, and which page
//     of how many it is.
//  2. Every page says that local code and its officials decide.
//  3. Nothing depends on colour: pages read the same from any printer.
//  4. The same answer and meta give the same pages.
package sheets
