// Package assets holds what ships inside the program: published stair limits,
// the tables of measuring tools and of stock sizes, the icon and the fonts.
//
// It refuses to judge a job: it hands out tables, and solver packages use them.
// It imports the standard library only.
//
// A standing says how far a value may be trusted, see [Standing]. Lo, Hi and
// spreads are in the unit their table prints, not in the program's millimetres
// and radians; the app converts them once, at the border.
//
// Always true: a table is parsed and checked on first use and each call
// returns its own copy, so no caller can change what another sees.
//
//	tables, err := assets.Rules()
package assets
