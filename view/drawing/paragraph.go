package drawing

import (
	"math"
	"strings"
	"unicode/utf8"

	"risewright/view/words"
)

// Wrap breaks s into lines no wider than width paper millimetres at the given
// font size.
//
//  1. It breaks at spaces and line feeds; only a word wider than the whole
//     width is broken within itself.
//  2. A fraction stays with its whole number and a unit with its figure, so
//     that no line begins with 5⁄16 or mm.
//  3. Joining the lines with spaces gives the words of s back.
//
// The words are those of the language spoken (package words), and the lines are
// marked as said. An empty s
// gives no lines. A width too small for one character gives one
// character a line.
func Wrap(s string, width, size float64, bold, mono bool) []string {
	var lines []string
	add := func(line string) { lines = append(lines, words.Done(line)) }
	for _, part := range strings.Split(words.Say(s), "\n") {
		line := ""
		for _, word := range unbroken(part) {
			if line != "" {
				if joined := line + " " + word; setWidth(joined, size, bold, mono) <= width {
					line = joined
					continue
				}
				add(line)
			}
			line = word
			for setWidth(line, size, bold, mono) > width && utf8.RuneCountInString(line) > 1 {
				head := longestHead(line, width, size, bold, mono)
				add(line[:head])
				line = line[head:]
			}
		}
		if line != "" {
			add(line)
		}
	}
	return lines
}

// Shorten takes characters off the end of s until it is no wider than width paper
// millimetres at the given font size, and puts … for them. It shortens what is
// said in the language spoken (package words), and returns s where that fits. A
// width too small for one character and the mark gives an empty text.
func Shorten(s string, width, size float64, bold, mono bool) string {
	said := words.Say(s)
	if setWidth(said, size, bold, mono) <= width+shortenSlack {
		return s
	}
	for r := []rune(strings.TrimSuffix(said, "…")); len(r) > 1; {
		r = r[:len(r)-1]
		if short := strings.TrimRight(string(r), " ") + "…"; setWidth(short, size, bold, mono) <= width+shortenSlack {
			return words.Done(short)
		}
	}
	return ""
}

// shortenSlack keeps a text that fits by its own measure from being cut for the
// last bits of the sum of its letters, in mm.
const shortenSlack = 1e-6

// longestHead returns how many bytes of s, at least one character, fit.
func longestHead(s string, width, size float64, bold, mono bool) int {
	end := 0
	for i, r := range s {
		next := i + utf8.RuneLen(r)
		if end > 0 && setWidth(s[:next], size, bold, mono) > width {
			break
		}
		end = next
	}
	return end
}

// unbroken splits s at spaces, keeping fractions and units with their figures.
func unbroken(s string) []string {
	var out []string
	for _, w := range strings.Fields(s) {
		if n := len(out); n > 0 && endsInFigure(out[n-1]) && clings(w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func endsInFigure(s string) bool {
	last := s[len(s)-1]
	return isFigure(last)
}

// units are what stays with the figure before it, each between two spaces.
const units = " mm mm/m in in/ft m m² mm² ft ft² oz ml l A mA µA V W kWh ohm Ohm µF KiB KB AWG s ms h min kg lb °C % lx lm "

// clings says that a word belongs to the figure before it: a fraction or a
// unit.
func clings(w string) bool {
	if isFigure(w[0]) && strings.ContainsAny(w, "/⁄") {
		return true
	}
	w = strings.TrimRight(w, ".,;:)")
	return strings.Contains(units, " "+w+" ")
}

// FitSize returns the largest font size, at most size and at least least, at
// which the one line s is no wider than width.
func FitSize(s string, width, size, least float64, bold, mono bool) float64 {
	w := TextWidth(s, size, bold, mono)
	if w <= width || w == 0 {
		return size
	}
	k := size * width / w
	for k > least && TextWidth(s, k, bold, mono) > width { // by rounding
		k = math.Nextafter(k, 0)
	}
	return max(least, k)
}
