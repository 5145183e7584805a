// Package window is the program's window: it puts the panels on the screen and
// wires them to a session, to files, to the menus and to the keyboard.
//
// It refuses to draw, to solve and to know what a reading is; view/panel does
// the first and the last, the session has the second done.
//
// # What is always true
//
//  1. No job is closed with unsaved changes unless the user has said so.
//  2. A file is written by the session alone, whole or not at all.
//  3. Everything in a menu that can be done without the mouse has its key
//     shown beside it.
package window
