// Package kit makes the folder for the person who puts a stair's rules onto its
// controller: the portable sources, the stair's tables and pins, and a page that
// says what to do.
//
// Names from the job come into C only as comments, and only letters, figures and
// spaces of them, so that no name can break a source.
package kit

import (
	"fmt"
	"strings"

	"risewright/app/papers"
	"risewright/assets"
	"risewright/model"
	"risewright/solver/walk"
)

// Kit is what the folder is made from.
type Kit struct {
	Job     *model.Job
	Zones   []walk.Zone // of the job's sensors, by input
	Tables  *walk.Tables
	Program string // name and version of this program
}

// Files returns the files of the kit.
func (k *Kit) Files() ([]papers.File, error) {
	var out []papers.File
	for _, name := range assets.ControllerFiles() {
		text, err := assets.ControllerFile(name)
		if err != nil {
			return nil, err
		}
		if name == "stair_limits.h" {
			text = []byte(k.limits())
		}
		out = append(out, papers.File{Name: name, Data: text})
	}
	return append(out,
		papers.File{Name: "stair_tables.h", Data: []byte(k.tables())},
		papers.File{Name: "stair_pins.h", Data: []byte(k.pins())},
		papers.File{Name: "README.txt", Data: []byte(k.readme())}), nil
}

// plain returns what of a name may stand in a C comment: at most 40 letters,
// figures, spaces, points and dashes of ASCII.
func plain(name string) string {
	var b strings.Builder
	for _, r := range name {
		switch {
		case b.Len() == 40:
			return b.String()
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == ' ', r == '.', r == '-':
			b.WriteRune(r)
		default:
			b.WriteByte('_')
		}
	}
	return b.String()
}

// shown returns a name for a page of text: without line ends and other control
// characters, and of a length that is read.
func shown(name string) string {
	runes := []rune(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r == 0x2028 || r == 0x2029 {
			return ' '
		}
		return r
	}, name))
	if len(runes) > 60 {
		runes = append(runes[:59], '…')
	}
	return string(runes)
}

func (k *Kit) limits() string {
	return fmt.Sprintf(`/* The largest stair that the state has room for: this one. */
#ifndef STAIR_LIMITS_H
#define STAIR_LIMITS_H

#define RW_MAX_BARS %d
#define RW_MAX_SENSORS %d

#endif
`, k.Tables.Bars, max(1, len(k.Tables.Sensors)))
}

func (k *Kit) tables() string {
	var b strings.Builder
	fmt.Fprintf(&b, `/* The tables of the stair %q, made by %s.
 * Do not change them by hand: the last two bytes are a check sum, and with any
 * other the whole flight is lit. Make them anew from the job instead.
 */
#ifndef STAIR_TABLES_H
#define STAIR_TABLES_H

#include "stair_core.h"

#define RW_TABLE_BYTES %d

static const uint8_t stair_tables[RW_TABLE_BYTES] RW_STORE = {
`, plain(k.Job.Name), plain(k.Program), len(k.Tables.Bytes()))
	for _, s := range k.Tables.Sections() {
		fmt.Fprintf(&b, "\t/* %s */\n", s.Words)
		for i, v := range s.Bytes {
			switch {
			case i%16 == 0 && i > 0:
				b.WriteString("\n\t")
			case i == 0:
				b.WriteString("\t")
			default:
				b.WriteString(" ")
			}
			fmt.Fprintf(&b, "0x%02x,", v)
		}
		b.WriteString("\n")
	}
	b.WriteString("};\n\n#endif\n")
	return b.String()
}

// firstPin is the pin of the first sensor's input in stair_pins.h.
const firstPin = 2

func (k *Kit) pins() string {
	var b strings.Builder
	b.WriteString(`/* Which pin does what. The numbers are only a beginning: write those of your
 * board. A pin that reads a sensor must bear its output's volts, and is pulled
 * down, so that a sensor that is taken away or broken off reads as off.
 */
#ifndef STAIR_PINS_H
#define STAIR_PINS_H

`)
	pin := firstPin
	for i, z := range k.Zones {
		state := ""
		if z.Removed {
			state = " (taken away: pull it down)"
		}
		fmt.Fprintf(&b, "#define RW_PIN_INPUT_%d %d /* sensor %s%s */\n", i, pin, plain(z.Name), state)
		pin++
	}
	fmt.Fprintf(&b, "#define RW_INPUTS %d\n\n", len(k.Zones))
	for _, p := range []struct{ name, what string }{
		{"DATA", "data of the strips, through a resistor, with a level shifter on a 3.3 V board"},
		{"BUTTON", "scenes, to ground, pulled up"},
		{"DAYLIGHT", "1 when there is enough daylight; tie it to ground if there is no such sensor"},
		{"HEARTBEAT", "turns over every tick while the controller is alive"},
		{"LAMP", "lit while a sensor is stuck or silent"},
	} {
		fmt.Fprintf(&b, "#define RW_PIN_%s %d /* %s */\n", p.name, pin, p.what)
		pin++
	}
	b.WriteString("\n#endif\n")
	return b.String()
}
