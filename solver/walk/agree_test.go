package walk_test

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"risewright/assets"
)

// long says whether the long sweeps are asked for.
func long() bool { return os.Getenv("RISEWRIGHT_FULL") == "1" }

// size returns how much a sweep takes: all of it when the long sweeps are asked
// for, and little under the race detector, which makes the rules twenty times
// slower and has next to nothing to look at in them.
func size(full, short int) int {
	switch {
	case long():
		return full
	case underRace:
		return max(1, short/20)
	}
	return short
}

// compiler returns the path of a compiler, or skips; where everything must be
// there it fails.
func compiler(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is not installed; .dev/test installs it", name)
		}
		t.Skipf("%s is not installed (.dev/test installs it): the C core is not held against the Go rules", name)
	}
	return path
}

// sources writes the controller's sources into a folder of the test's own.
func sources(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range assets.ControllerFiles() {
		text, err := assets.ControllerFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func command(t *testing.T, dir, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

// host is a running harness.
type host struct {
	in  *bufio.Writer
	out *bufio.Scanner
	end func() error
}

func startHost(path string) (*host, error) {
	cmd := exec.Command(path)
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	var said strings.Builder
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	h := &host{bufio.NewWriterSize(in, 1<<16), bufio.NewScanner(out), nil}
	h.end = func() error {
		h.in.Flush()
		in.Close()
		io.Copy(io.Discard, out)
		if err := cmd.Wait(); err != nil || said.Len() > 0 {
			return fmt.Errorf("the harness: %v\n%s", err, said.String())
		}
		return nil
	}
	return h, nil
}

// ask sends a trace and returns so many lines of the answer.
func (h *host) ask(text string, lines int) ([]string, error) {
	h.in.WriteString(text)
	h.in.WriteString("H\n")
	if err := h.in.Flush(); err != nil {
		return nil, err
	}
	out := make([]string, 0, lines)
	for len(out) < lines && h.out.Scan() {
		out = append(out, h.out.Text())
	}
	if len(out) < lines {
		return out, fmt.Errorf("the harness stopped after %d of %d lines: %v", len(out), lines, h.out.Err())
	}
	return out, nil
}

// TestAgreement gives the C core, compiled with its faults made visible, the same
// traces as the Go rules. One in twenty is compared tick by tick; of the others a
// check of all ticks is, which no difference escapes but one in four thousand
// million.
func TestAgreement(t *testing.T) {
	gcc := compiler(t, "gcc")
	dir := sources(t)
	command(t, dir, gcc, "-std=c99", "-O1", "-Wall", "-Wextra", "-Wconversion", "-Werror", "-fsanitize=address,undefined", "-fno-sanitize-recover=all",
		"-o", "host", "stair_core.c", "host.c")
	traces := size(100_000, 7500) // the short ones take about 20 s of one core
	if underRace {
		traces = size(100_000, 1000)
	}
	const workers = 2
	var ticks, stuck, silent, conflicts atomic.Int64
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			h, err := startHost(filepath.Join(dir, "host"))
			if err != nil {
				t.Error(err)
				return
			}
			defer func() {
				if err := h.end(); err != nil {
					t.Error(err)
				}
			}()
			for i := w; i < traces; i += workers {
				tr := drawTrace(rand.New(rand.NewPCG(uint64(i), 5)), 64, 16)
				want := tr.check()
				got, err := h.ask(tr.text('Q'), 1)
				if err != nil {
					t.Errorf("trace %d: %v", i, err)
					return
				}
				if i%20 == 0 || got[0] != want {
					lines := tr.lines()
					each, err := h.ask(tr.text('S'), len(lines)+1)
					if err != nil {
						t.Errorf("trace %d: %v", i, err)
						return
					}
					for k := range lines {
						if lines[k] != each[k] {
							t.Errorf("trace %d, tick %d:\n go %s\n c  %s", i, k, lines[k], each[k])
							return
						}
					}
				}
				if got[0] != want {
					t.Errorf("trace %d: C says %s, Go %s", i, got[0], want)
					return
				}
				var m, q, c int64
				fmt.Sscanf(want[9:], "%x %x %x", &m, &q, &c)
				for _, s := range tr.steps {
					ticks.Add(int64(s.n))
				}
				stuck.Add(min(1, m))
				silent.Add(min(1, q))
				conflicts.Add(c)
			}
		})
	}
	wg.Wait()
	t.Logf("%d traces, %d ticks; ended with a stuck sensor %d, with a silent one %d; %d triggers where nobody could be", traces, ticks.Load(), stuck.Load(), silent.Load(), conflicts.Load())
	if !t.Failed() && (stuck.Load() <= int64(traces/50) || silent.Load() < int64(traces/200) || conflicts.Load() < int64(traces/50)) {
		t.Error("the traces hardly ever come to a fault")
	}
}

// TestDamagedTables: with any damage to its tables the C core lights every bar
// and reads nothing beyond them.
func TestDamagedTables(t *testing.T) {
	gcc := compiler(t, "gcc")
	dir := sources(t)
	command(t, dir, gcc, "-std=c99", "-O1", "-Wall", "-Wextra", "-Werror", "-fsanitize=address,undefined", "-fno-sanitize-recover=all",
		"-DRW_MAX_BARS=14", "-DRW_MAX_SENSORS=5", "-o", "host", "stair_core.c", "host.c")
	good := evenTables(t, nil).Bytes()
	r := rand.New(rand.NewPCG(1, 6))
	var in strings.Builder
	tries := 0
	try := func(b []byte) {
		tries++
		fmt.Fprintf(&in, "T %x\nS 1 0 0\n", b)
	}
	for range 300 {
		b := append([]byte(nil), good...)
		b[r.IntN(len(b))] ^= 1 << r.IntN(8)
		try(b)
		try(good[:r.IntN(len(good))])
	}
	big := drawTrace(rand.New(rand.NewPCG(3, 5)), 64, 16) // whole, but too large for this build
	for seed := uint64(4); big.tables.Bars <= 14; seed++ {
		big = drawTrace(rand.New(rand.NewPCG(seed, 5)), 64, 16)
	}
	try(big.bytes)
	cmd := exec.Command(filepath.Join(dir, "host"))
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != tries {
		t.Fatalf("%d answers to %d tables", len(lines), tries)
	}
	for i, l := range lines {
		if l != strings.Repeat("1a", 4*14) {
			t.Fatalf("table %d: bars %s", i, l)
		}
	}
}

// TestEightBit compiles the core for an 8-bit part of 2 KiB, says what it takes,
// and runs traces on it in simavr.
func TestEightBit(t *testing.T) {
	gcc, sim := compiler(t, "avr-gcc"), compiler(t, "simavr")
	dir := sources(t)
	main, err := os.ReadFile("testdata/avr.c")
	if err != nil {
		t.Fatal(err)
	}
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("avr.c", string(main))
	flags := []string{"-std=c99", "-Os", "-Wall", "-Wextra", "-Werror", "-mmcu=atmega328p", "-fno-common", "-DRW_MAX_BARS=16", "-DRW_MAX_SENSORS=5"}
	build := func(args ...string) { command(t, dir, gcc, append(flags[:len(flags):len(flags)], args...)...) }

	// What the core and the tables of a stair of 16 bars and 5 sensors take.
	tr := drawTrace(rand.New(rand.NewPCG(0, 7)), 16, 5)
	for seed := uint64(1); tr.tables.Bars != 16 || len(tr.tables.Sensors) != 5; seed++ {
		tr = drawTrace(rand.New(rand.NewPCG(seed, 7)), 16, 5)
	}
	put("traces.h", avrTraces([]trace{tr}))
	put("size.c", "#include \"stair_core.h\"\nsc_core stair;\n")
	build("-c", "stair_core.c", "size.c")
	ram := sizeOf(t, dir, "size.o", 3)
	code := sizeOf(t, dir, "stair_core.o", 1)
	if used := sizeOf(t, dir, "stair_core.o", 2) + sizeOf(t, dir, "stair_core.o", 3); used != 0 {
		t.Errorf("the core keeps %d bytes of its own", used)
	}
	// What it calls: the memory functions of the C library and the compiler's own
	// whole-number arithmetic; no heap, no floating point, nothing of the board.
	whole := regexp.MustCompile(`^(memset|__(mul|mulu|umul|udiv|div)[a-z]*[0-9]|__tablejump2?__|__(prologue|epilogue)_[a-z]+__)$`)
	for _, name := range strings.Fields(command(t, dir, "avr-nm", "-u", "stair_core.o")) {
		if name != "U" && !whole.MatchString(name) {
			t.Errorf("the core calls %s", name)
		}
	}
	t.Logf("16 bars and 5 sensors on the 8-bit part: core %d bytes of flash, tables %d, state %d bytes of RAM", code, len(tr.bytes), ram)
	if ram == 0 || ram >= 1024 {
		t.Errorf("the state takes %d bytes of RAM, not less than 1024", ram)
	}

	traces, each := 10, 10
	if long() {
		traces, each = 200, 20
	}
	for from := 0; from < traces; from += each {
		var batch []trace
		for i := range each {
			batch = append(batch, drawTrace(rand.New(rand.NewPCG(uint64(from+i), 8)), 16, 5))
		}
		put("traces.h", avrTraces(batch))
		build("-o", "fw.elf", "stair_core.c", "avr.c")
		said := command(t, dir, sim, "-m", "atmega328p", "-f", "16000000", "fw.elf")
		got := regexp.MustCompile(`[0-9a-f]{8} [0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{2}`).FindAllString(said, -1)
		if len(got) != len(batch) {
			t.Fatalf("traces from %d: %d answers of %d:\n%s", from, len(got), len(batch), said)
		}
		for i := range batch {
			if want := batch[i].check(); got[i] != want {
				t.Errorf("trace %d: the 8-bit part says %s, Go %s", from+i, got[i], want)
			}
		}
	}
	t.Logf("%d traces run on the 8-bit part", traces)
}

// sizeOf returns a column of avr-size: 1 text, 2 data, 3 bss.
func sizeOf(t *testing.T, dir, file string, column int) int {
	t.Helper()
	var v [3]int
	lines := strings.Split(command(t, dir, "avr-size", file), "\n")
	if _, err := fmt.Sscan(lines[1], &v[0], &v[1], &v[2]); err != nil {
		t.Fatal(err)
	}
	return v[column-1]
}

// avrTraces returns traces as arrays in flash.
func avrTraces(traces []trace) string {
	var b strings.Builder
	list := func(kind, name string, v []int) {
		fmt.Fprintf(&b, "static const %s %s[] PROGMEM = {", kind, name)
		for _, x := range v {
			fmt.Fprintf(&b, "%d,", x)
		}
		b.WriteString("};\n")
	}
	var tables, at, size, steps, n, in, sw []int
	for i := range traces {
		at, size = append(at, len(tables)), append(size, len(traces[i].bytes))
		for _, x := range traces[i].bytes {
			tables = append(tables, int(x))
		}
		steps = append(steps, len(traces[i].steps))
		for _, s := range traces[i].steps {
			n, in, sw = append(n, s.n), append(in, int(s.in)), append(sw, int(s.switches))
		}
	}
	b.WriteString("#include <avr/pgmspace.h>\n")
	fmt.Fprintf(&b, "#define TRACES %d\n", len(traces))
	list("uint8_t", "trace_tables", tables)
	list("uint16_t", "table_at", at)
	list("uint16_t", "table_size", size)
	list("uint16_t", "trace_steps", steps)
	list("uint16_t", "trace_n", n)
	list("uint16_t", "trace_in", in)
	list("uint8_t", "trace_sw", sw)
	return b.String()
}
