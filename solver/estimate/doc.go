// Package estimate says how long a job takes, what it costs and on which days
// it can be done. Every answer is a range of three: all going well, the
// likeliest, all going ill. There is no single number to be held to.
//
// It refuses to read a clock: a start date is given to it. It knows no wages
// and no shop; rates, hours and waits are tables that the user may change, and
// those shipped are from memory.
//
// # Words
//
// Hours are a professional's, or a householder's where asked. A stage is work;
// a wait is time in which wood, adhesive, finish or paint does it alone, in
// calendar days. A session is an evening of the order of fitting: the calendar
// deals nothing of its own to the days of the fitting, so that it never tells
// another story than the order.
//
// # How the ranges add up
//
// Low is the sum of all lows, high of all highs. That is wider than chance
// alone would make it, because what goes ill on one step, such as bad light, a
// poor substrate or a child in the house, goes ill on all.
//
// # What is always true
//
//  1. Low is never above likely, nor likely above high, for hours, money and
//     dates alike.
//  2. No day has more work than its hours, but for an evening whose one job is
//     longer, and only working days have any.
//  3. Nothing is cut before the boards have lain in the house, and nothing is
//     walked on before its adhesive has set.
//  4. A start so many weeks later moves every date by as much.
package estimate
