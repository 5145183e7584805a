package panel

import "fyne.io/fyne/v2/test"

// Label and Press let tests find and press the panels' buttons.
func (b *button) Label() string { return b.Text }

// Press presses the button.
func (b *button) Press() { test.Tap(b) }
