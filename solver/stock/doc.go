// Package stock decides what to buy for a flight and how to cut it up: which
// boards, in which lengths, what comes off each, and the adhesive, pins and
// finish that go with them.
//
// It refuses to make a board's size: pieces come finished from package pieces.
// It knows no shop, no brand and no exchange rate; a price is a number from a
// table that the user may change, and a currency is a label. It rounds nothing
// to look exact: where a plan is not proven the best, the bound that no plan
// can beat stands beside it.
//
// # Words
//
// A part is what is cut; a board is what is bought. A span is a board, or what
// lies between two defects that were set aside by hand. Squaring is the first
// cut on a board's end. An offcut is what is left.
//
// # How cutting is solved
//
// [Cutting] is solved by branch and bound over whole boards, with the linear
// program over all possible fillings as the bound; fillings are made as they
// are needed, and every bound is worked out anew from dual prices in a way that
// stays true whatever rounding did to the program. See the search type.
//
// # What is always true
//
//  1. A plan asks for every piece once, and for no piece that cannot be.
//  2. No lower bound is above what any plan can reach.
//  3. Before the survey is bare, a length to buy is long enough with 99 %, and
//     the plan says by how much it was lengthened.
//  4. The same job and tables give the same plan, to the last cut.
package stock
