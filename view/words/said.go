package words

import (
	"strings"
	"sync/atomic"
)

// spoken is the book of the language the program speaks. It is set once, before
// the first window or paper, as fyne's own translations are.
var spoken atomic.Pointer[Book]

// Speak makes all that is shown from now on speak by a book; nil is English.
func Speak(b *Book) { spoken.Store(b) }

// Say returns a text in the language spoken. What has been said once (Done) is
// not looked up again.
func Say(text string) string {
	if strings.Contains(text, done) {
		return strings.ReplaceAll(text, done, "")
	}
	return spoken.Load().Say(text)
}

// done marks a text that is in the language spoken already: WORD JOINER, which
// nobody types.
const done = "\u2060"

// Done marks a text that Say has said, so that Say gives it back as it is, and
// so does Say of any part that keeps its beginning. It is for those who break or
// shorten a text before it is drawn: a line of German looked up as if it were
// English would find "no" in "no. 5".
func Done(said string) string {
	if spoken.Load() == nil {
		return said
	}
	return done + said
}
