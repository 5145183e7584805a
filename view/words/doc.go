// Package words says what the program shows in another language.
//
// The program is written in English, and its sentences are put together where
// they are meant. They are turned into another language at the edge, where a
// text is about to be measured and shown: by looking the text up in a book of
// pairs. A key may have holes, written {}, where a figure, a length or a name
// stands; what stands in them is looked up too. What the book does not hold
// stays English, so nothing is ever lost, only not translated.
//
// The one list of all that can be said is assets/words; a test in app keeps it
// complete.
package words
