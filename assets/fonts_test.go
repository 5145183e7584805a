package assets_test

import (
	"bytes"
	"strings"
	"testing"

	"risewright/assets"
)

// maxFontBytes keeps the program's download modest.
const maxFontBytes = 3 << 20

func TestFontsAreFourTrueTypeFilesWithTheirLicence(t *testing.T) {
	seen := map[string]bool{}
	total := 0
	for _, bold := range []bool{false, true} {
		for _, mono := range []bool{false, true} {
			f := assets.Font(bold, mono)
			// A TrueType file starts with version 1.0; outlines are in glyf.
			if !bytes.HasPrefix(f, []byte{0, 1, 0, 0}) || !bytes.Contains(f[:512], []byte("glyf")) {
				t.Errorf("bold %v mono %v: not a TrueType file", bold, mono)
			}
			seen[string(f)] = true
			total += len(f)
		}
	}
	if len(seen) != 4 {
		t.Errorf("%d different files, want 4", len(seen))
	}
	if total > maxFontBytes {
		t.Errorf("fonts take %d bytes, more than %d", total, maxFontBytes)
	}
	for _, who := range []string{"Bitstream", "Tavmjong Bah", "Permission is hereby granted"} {
		if !strings.Contains(assets.FontLicence(), who) {
			t.Errorf("licence lacks %q", who)
		}
	}
}

func TestFontGivesEachCallerItsOwnCopy(t *testing.T) {
	a := assets.Font(false, false)
	a[0] = 0xFF
	if assets.Font(false, false)[0] == 0xFF {
		t.Error("writing to one copy changed the next")
	}
}
