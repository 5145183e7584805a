package words

import "sync/atomic"

// spoken is the book of the language the program speaks. It is set once, before
// the first window or paper, as fyne's own translations are.
var spoken atomic.Pointer[Book]

// Speak makes all that is shown from now on speak by a book; nil is English.
func Speak(b *Book) { spoken.Store(b) }

// Say returns a text in the language spoken.
func Say(text string) string { return spoken.Load().Say(text) }
