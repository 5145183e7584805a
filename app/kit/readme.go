package kit

import (
	"fmt"
	"strings"

	"risewright/solver/walk"
)

// readme returns the page for the person who flashes the controller.
func (k *Kit) readme() string {
	t := k.Tables
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("Controller of the stair %q", shown(k.Job.Name))
	p("made by %s, revision %d of the job's readings", shown(k.Program), k.Job.Revision)
	p("")
	p("READ THIS FIRST")
	p("")
	p("- The lights are an extra. They never take the place of the switched lighting of")
	p("  the stair, which the local code asks for and which must work by itself.")
	p("- Whatever carries mains voltage is for a licensed person: supply, its feed, its")
	p("  fuse and its place. Work on the low-voltage side with the supply off.")
	p("- Fuse each branch where it begins. No supply goes into a closed cavity.")
	p("- Try the stair by day, with somebody at the switch, before anybody walks on it")
	p("  by night. Rails and treads come first: light does not mend a bad step.")
	p("- Every time and distance in the rules is common practice, no source. Try them")
	p("  for a week, with sensors on tape, before you fix anything.")
	p("")
	p("WHAT IS HERE")
	p("")
	for _, f := range []struct{ name, what string }{
		{"stair_core.c, .h", "the rules: portable C99, no allocation, no floating point, no hardware"},
		{"stair_tables.h", fmt.Sprintf("this stair: %d bytes that may stay in flash", len(t.Bytes()))},
		{"stair_limits.h", fmt.Sprintf("room for %d bars and %d sensors", t.Bars, len(t.Sensors))},
		{"stair_pins.h", "which pin does what; write your board's numbers"},
		{"stair_hardware.h", "the eight functions that you write for your board"},
		{"stair_main.c", "setup and loop; call stair_setup once, then stair_loop for ever"},
		{"host.c", "runs the rules on an ordinary computer"},
	} {
		p("  %-18s %s", f.name, f.what)
	}
	p("")
	p("INPUTS AND SENSORS")
	p("")
	p("  input  row  sensor                      sure of positions   may see")
	row := 0
	rows := map[int]int{}
	for i := range t.Sensors {
		rows[int(t.Sensors[i].Input)] = i
	}
	for i := range k.Zones {
		z := &k.Zones[i]
		r, ok := rows[i]
		if !ok {
			p("  %5d    -  %-26s  taken away: pull the input down", i, shown(z.Name))
			continue
		}
		row++
		p("  %5d  %3d  %-26s  %-18s  %s", i, r, shown(z.Name), words(z.Sure()), words(z.May()))
	}
	if row == 0 {
		p("  No sensor works, so the whole flight is always lit.")
	}
	p("")
	p("  Position 0 is the bottom floor, position k tread k, position %d the top floor.", t.Bars)
	p("  Bar 0 of the program lights the bottom floor, bar k tread k: %d bars. Count the", t.Bars)
	p("  bars under the noses from 1, and bar 1 lights the floor.")
	p("")
	p("RULES")
	p("")
	p("  on            on before   positions   goes          bars at full   at least dim")
	for _, r := range t.Rules() {
		before := "none"
		if r.Before >= 0 {
			before = fmt.Sprint("row ", r.Before)
		}
		on := "row " + strings.Trim(strings.ReplaceAll(fmt.Sprint(r.On), " ", ", "), "[]")
		p("  %-12s  %-10s  %-10s  %-12s  %-13s  %s", on, before, words(r.Where), way(r.Way), words(r.Full), words(r.Dim))
	}
	p("")
	p("  Bars are named by the position they light. On top of this every step where")
	p("  somebody may be is at least dim, however many people there are.")
	p("  Coming in, steps are lit not later than %.2f s after somebody first moves where", t.EntryLatency())
	p("  a sensor is sure of them. A step of the rules is %d ms: take no longer.", t.TickMS)
	p("")
	p("IF SOMETHING FAILS")
	p("")
	p("- A sensor on for more than %.0f s is left out and reported; its steps stay dim.", t.Seconds(uint32(t.Stuck)))
	p("- A sensor that is passed without a word is left out and reported until it speaks")
	p("  again; the whole flight is lit for %.0f s, and after that its gap is bridged. The", t.Seconds(uint32(t.AllOn)))
	p("  first walk past it may be dark in part.")
	p("- To take a sensor away, pull its input down, take it away in the job, and write")
	p("  these files again: other tables, the same program.")
	p("- Inputs that cannot be read: say SC_LOST, and the whole flight is lit.")
	p("- Tables that are damaged: the whole flight is lit at a tenth.")
	p("- The controller hangs: its watchdog starts it anew, and while the sensors warm up,")
	p("  %.0f s, the whole flight is lit.", t.Seconds(uint32(t.Warm)))
	p("- The controller or its data line is lost for good: strips keep the last colour or")
	p("  go dark, so the program cannot help. Let the heartbeat pin hold up a relay by a")
	p("  one-shot of about half a second, and let the relay's resting contact switch on a")
	p("  plain white strip or lamp that lights the whole flight without any data.")
	p("- Mains lost: all is dark. Keep a torch where you would look for one.")
	p("")
	p("TRY IT ON A COMPUTER")
	p("")
	p("  gcc -std=c99 -Wall -Wextra -DRW_HAVE_TABLES -o host stair_core.c host.c")
	p("  printf 'P\\nS 3 0 0\\nS 5 1 0\\n' | ./host")
	p("")
	p("  S takes ticks, inputs and switches (hexadecimal) and prints a line a tick: eight")
	p("  digits a bar for red, green, blue and white.")
	p("")
	p("ON THE BOARD")
	p("")
	p("  Write the functions of stair_hardware.h, compile stair_core.c, stair_main.c and")
	p("  yours for your part (for an 8-bit one of 2 KiB: avr-gcc -std=c99 -Os -mmcu=...),")
	p("  and watch it for an hour at full light before anything is closed in.")
	return b.String()
}

func words(s walk.Span) string {
	switch {
	case s.Len() == 0:
		return "none"
	case s.Len() == 1:
		return fmt.Sprint(s.First)
	}
	return fmt.Sprintf("%d to %d", s.First, s.Last)
}

func way(c walk.Came) string {
	switch c {
	case walk.CameBelow:
		return "up"
	case walk.CameAbove:
		return "down"
	}
	return "not known"
}
