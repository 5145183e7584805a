// Package pdf writes pages as a PDF: lines, curves and lettering, not pixels,
// so a template printed at full size is as true as the printer. Only what is a
// picture in the drawing is one in the file.
//
// It refuses to read the clock: the date comes with [Meta].
//
// # What is always true
//
//  1. The same pages and the same Meta give the same bytes.
//  2. Fonts are embedded, cut down to the letters used, and the text can be
//     searched and copied. A set fraction comes out as figures round a
//     fraction slash.
//  3. The file asks the viewer to print at full size (PrintScaling None).
//     A person can still choose otherwise, so a template needs its own check
//     measure.
package pdf
