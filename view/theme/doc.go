// Package theme is how the window looks: quiet workshop colours for light and
// dark, close-set sizes, and the lettering that the drawings use too.
//
// # What is always true
//
//  1. Words stand at least 4.5 to 1 against every ground they are shown on, and
//     the edges of fields and of what is chosen at least 3 to 1 (Web Content
//     Accessibility Guidelines 2.2, success criteria 1.4.3 and 1.4.11). A test
//     measures every pair.
//  2. The window and the drawings take their colours from the same palette, so
//     that what is chosen, held or out of limits looks the same in both.
package theme
