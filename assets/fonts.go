package assets

import "embed"

//go:embed fonts/*.ttf fonts/LICENSE-DejaVu.txt
var fonts embed.FS

// FontName is the family of the fonts that Font returns, for documents that
// name the font they were laid out in.
const FontName = "DejaVu Sans Condensed"

// Font returns a TrueType file: a condensed sans, or a fixed-width face, each
// regular or bold. Fixed width is not condensed. Every call returns its own
// copy.
func Font(bold, mono bool) []byte {
	name := "fonts/DejaVuSansCondensed.ttf"
	switch {
	case bold && mono:
		name = "fonts/DejaVuSansMono-Bold.ttf"
	case mono:
		name = "fonts/DejaVuSansMono.ttf"
	case bold:
		name = "fonts/DejaVuSansCondensed-Bold.ttf"
	}
	data, err := fonts.ReadFile(name)
	if err != nil {
		// Cannot happen, because the embed line above fails the build first.
		panic(err)
	}
	return data
}

// FontLicence returns the licence under which the fonts are passed on.
func FontLicence() string {
	text, err := fonts.ReadFile("fonts/LICENSE-DejaVu.txt")
	if err != nil {
		// Cannot happen, because the embed line above fails the build first.
		panic(err)
	}
	return string(text)
}
