package words_test

import (
	"testing"

	"risewright/view/words"
)

// A text is looked up for the reading that leaves the least of it in English.
func TestSayLeavesTheLeast(t *testing.T) {
	b := book(t, map[string]string{
		"{} is {}":                         "{} ist {}",
		"step {} is not ready for the saw": "Stufe {} ist nicht bereit für die Säge",
		"its readings conflict":            "die Maße widersprechen sich",
		"retake the {}":                    "messen Sie neu: {}",
		"gauge":                            "Winkel",
		"from {}":                          "von {}",
		"from memory":                      "aus dem Gedächtnis",
		"no source":                        "ohne Quelle",
		"Lead paint":                       "Bleifarbe",
		"Take it for leaded. Do not sand.": "Gilt als bleihaltig. Nicht schleifen.",
		"no":                               "nein",
	})
	for _, c := range []struct {
		name, text, want string
		left             int
	}{
		{"a long key before a short one", "Step 5 is not ready for the saw: its readings conflict; retake the gauge",
			"Stufe 5 ist nicht bereit für die Säge: die Maße widersprechen sich; messen Sie neu: Winkel", 0},
		{"sentences that are one key, and more", "Take it for leaded. Do not sand. (from memory; no source)",
			"Gilt als bleihaltig. Nicht schleifen. (aus dem Gedächtnis; ohne Quelle)", 0},
		{"after a label", "Lead paint: Take it for leaded. Do not sand.", "Bleifarbe: Gilt als bleihaltig. Nicht schleifen.", 0},
		{"what has no pair is counted", "retake the wainscot", "messen Sie neu: wainscot", len("wainscot")},
		{"units and names are not", "retake the gauge; T05; 3 mm", "messen Sie neu: Winkel; T05; 3 mm", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			left := -1
			b.Heard(func(_, _ string, n int) { left = n })
			if said := b.Say(c.text); said != c.want || left != c.left {
				t.Errorf("%q is said as %q with %d letters left, want %q with %d", c.text, said, left, c.want, c.left)
			}
		})
	}
}

func TestHeardTellsWhatIsLeft(t *testing.T) {
	b := book(t, map[string]string{"left": "links"})
	got := map[string]int{}
	b.Heard(func(text, _ string, left int) { got[text] = left })
	for range 2 {
		b.Say("left")
		b.Say("left wainscot")
	}
	if len(got) != 2 || got["left"] != 0 || got["left wainscot"] == 0 {
		t.Errorf("heard %v", got)
	}
}

func TestMarks(t *testing.T) {
	b := book(t, map[string]string{"{} wide": "{} breit", "section {}": "Abschnitt {}"})
	b.Write(words.Marks{Decimal: ",", Thousands: " "})
	for text, want := range map[string]string{
		"3.5 mm wide":              "3,5 mm breit",
		"925.0 → 900.5 mm":         "925,0 → 900,5 mm",
		"±0.8":                     "±0,8",
		"2,048":                    "2 048",
		"1,234,567.8":              "1 234 567,8",
		"R311.7.5":                 "R311.7.5",
		"9.8.4":                    "9.8.4",
		"section 6.2":              "Abschnitt 6.2",
		"in Abschnitt 6.2 und 6.2": "in Abschnitt 6.2 und 6,2",
		"3,3 V":                    "3,3 V",
		"12 of 14.":                "12 of 14.",
		"T05, 3.0":                 "T05, 3,0",
		"1⁄16":                     "1⁄16",
	} {
		if got := b.Say(text); got != want {
			t.Errorf("%q is written %q, want %q", text, got, want)
		}
	}
	if got := book(t, nil).Say("3.5 and 2,048"); got != "3.5 and 2,048" {
		t.Errorf("without marks %q", got)
	}
}

// What has been said is not looked up again, whole or in part.
func TestDone(t *testing.T) {
	words.Speak(book(t, map[string]string{"no": "nein", "number {}": "Nr. {}"}))
	defer words.Speak(nil)
	line := words.Done(words.Say("number 5"))
	if got := words.Say(line); got != "Nr. 5" {
		t.Errorf("said %q", got)
	}
	if got := words.Say(words.Done("no")); got != "no" {
		t.Errorf("what was said is said again: %q", got)
	}
	if got := words.Say(words.Say(words.Done("no"))); got != "nein" {
		t.Errorf("the mark outlives one Say: %q", got)
	}
	words.Speak(nil)
	if got := words.Done("no"); got != "no" {
		t.Errorf("English is marked: %q", got)
	}
}
