package survey

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"risewright/model"
)

// agree is how many spreads a mended value may lie from what the others say.
const agree = 2.5

// slip is a classic mistake and the value the reading would have without it.
type slip struct {
	why   string
	value float64
}

// explain looks for a classic slip that turns the reading into what the other
// readings give, within the spread of their difference. It reports the
// closest; a slip is a hint for the person who retakes the reading, never a
// reason to change it.
func explain(r model.Reading, units model.Units, without, spread float64) (why string, mended float64, ok bool) {
	best := math.Inf(1)
	for _, s := range slips(r, units) {
		d := math.Abs(s.value - without)
		if d <= agree*spread && d < best {
			best, why, mended, ok = d, s.why, s.value, true
		}
	}
	return why, mended, ok
}

// slips lists the classic mistakes for a reading. Common practice, no source.
func slips(r model.Reading, units model.Units) []slip {
	v := r.Value
	var out []slip
	add := func(why string, value float64) { out = append(out, slip{why, value}) }
	switch r.Kind.Quantity() {
	case model.QuantityAngle:
		add("read as its supplement, 180° less the angle: the gauge lay on the other side of square", math.Pi-v)
		add("read from 0 instead of 90", v+math.Pi/2)
		add("90 was added to a reading that already had it", v-math.Pi/2)
	case model.QuantityLean:
		add("read with the wrong sign: the side leans the other way", -v)
	case model.QuantitySlope:
		add("read with the wrong sign: the other side is the high one", -v)
	case model.QuantityLength:
		for _, k := range []struct {
			mm     float64
			why    string
			metric bool
		}{
			{25.4, "an inch slipped", false}, {50.8, "two inches slipped", false}, {304.8, "a foot slipped", false},
			{12.7, "half an inch slipped", false}, {10, "a centimetre slipped", true}, {100, "ten centimetres slipped", true},
		} {
			if k.metric && hasFraction(r.Typed) {
				continue // read off the inch side of the tape
			}
			add(k.why+": the tape was read too long", v-k.mm)
			add(k.why+": the tape was read too short", v+k.mm)
		}
		out = append(out, fractionSlips(r.Typed)...)
		out = append(out, swappedDigits(r.Typed, units)...)
	}
	return out
}

// fractionSlips are the ways the inch fraction of a typed length is misread:
// halved, doubled, or counted from the other side.
func fractionSlips(typed string) []slip {
	l, err := model.ParseLength(typed, model.Imperial)
	if err != nil || !hasFraction(typed) {
		return nil
	}
	inches := float64(l) / 25.4
	whole := math.Floor(inches)
	f := inches - whole
	if f == 0 {
		return nil
	}
	var out []slip
	add := func(fraction float64) {
		if whole32(f) && !whole32(fraction) {
			return // the tape has no such mark
		}
		out = append(out, slip{
			fmt.Sprintf("the fraction was misread: %s for %s", sixtyFourths(f), sixtyFourths(fraction)),
			(whole + fraction) * 25.4,
		})
	}
	if f < 0.5 {
		add(2 * f)
	}
	add(f / 2)
	if f != 0.5 {
		add(1 - f)
	}
	return out
}

// whole32 says whether a fraction of an inch is one of thirty-seconds, the
// finest that most tapes show.
func whole32(f float64) bool { return math.Abs(f*32-math.Round(f*32)) < 1e-9 }

// hasFraction says whether a typed length has an inch fraction.
func hasFraction(typed string) bool { return strings.ContainsAny(typed, "/⁄½¼¾⅛⅜⅝⅞") }

// sixtyFourths writes a fraction of an inch in lowest terms.
func sixtyFourths(f float64) string {
	n, d := int(math.Round(f*64)), 64
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	return fmt.Sprintf("%d/%d", n, d)
}

// swappedDigits are the lengths with two neighbouring digits exchanged, for a
// length typed as a plain decimal number.
func swappedDigits(typed string, units model.Units) []slip {
	number, _, _ := strings.Cut(strings.TrimSpace(typed), " ")
	if _, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64); err != nil {
		return nil
	}
	var out []slip
	b := []byte(number)
	for i := 0; i+1 < len(b); i++ {
		if b[i] == b[i+1] || !digit(b[i]) || !digit(b[i+1]) {
			continue
		}
		b[i], b[i+1] = b[i+1], b[i]
		if l, err := model.ParseLength(string(b)+strings.TrimPrefix(strings.TrimSpace(typed), number), units); err == nil {
			out = append(out, slip{fmt.Sprintf("two digits changed places: %s for %s", number, b), float64(l)})
		}
		b[i], b[i+1] = b[i+1], b[i]
	}
	return out
}

func digit(c byte) bool { return c >= '0' && c <= '9' }
