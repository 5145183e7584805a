package assets

import _ "embed"

//go:embed icon.svg
var iconSVG string

//go:embed icon.png
var iconPNG string

// IconSVG returns Risewright's mark as SVG text.
func IconSVG() []byte { return []byte(iconSVG) }

// IconPNG returns Risewright's mark as a PNG of 512 by 512 pixels.
func IconPNG() []byte { return []byte(iconPNG) }
