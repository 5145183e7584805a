package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"risewright/view/words"
)

// check is a wish that can be ticked.
type check struct {
	widget.Check
	set func(bool)
}

func newCheck(text string, set func(bool)) *check {
	c := &check{set: set}
	c.Text, c.OnChanged = words.Say(text), set
	c.ExtendBaseWidget(c)
	return c
}

// FocusGained implements fyne.Focusable.
func (c *check) FocusGained() {
	c.Check.FocusGained()
	toSight(c)
}

// TypedKey implements fyne.Focusable: Enter ticks it as well as Space, which the
// library takes as a rune.
func (c *check) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter {
		c.TypedRune(' ')
		return
	}
	c.Check.TypedKey(k)
}

// show ticks the box as the job has it, without an edit.
func (c *check) show(on bool) {
	if c.Checked != on {
		c.Checked = on
		c.Refresh()
	}
}

// allow says whether the box can be ticked.
func (c *check) allow(on bool) {
	if on == c.Disabled() {
		if on {
			c.Enable()
		} else {
			c.Disable()
		}
	}
}
