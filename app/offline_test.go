//go:build linux && (amd64 || arm64)

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
	"unsafe"
)

// The program uses no network. That is shown by running it under a filter of the
// kernel (seccomp) that kills a process at its first call of socket for anything
// but a socket of this machine, which the window needs to reach its display. The
// filter needs no right and no other program, so it works wherever tests run.

// TestMain lets the test binary be the program, or a program under the filter.
func TestMain(m *testing.M) {
	switch os.Getenv("RISEWRIGHT_OFFLINE") {
	case "filter": // becomes the program that the arguments name
		if err := execOffline(os.Args[1:]); err != nil {
			fmt.Fprintln(os.Stderr, "filter:", err)
		}
		os.Exit(70)
	case "program":
		main()
	case "dial":
		_, err := net.DialTimeout("tcp", "127.0.0.1:9", time.Second)
		fmt.Println("dialled:", err)
		os.Exit(0)
	case "local":
		dir, err := os.MkdirTemp("", "offline")
		if err == nil {
			defer os.RemoveAll(dir)
			_, err = net.Listen("unix", filepath.Join(dir, "s"))
		}
		fmt.Println("local:", err)
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// What the filter is made of, from the kernel's headers linux/filter.h,
// linux/seccomp.h, linux/audit.h and linux/prctl.h.
const (
	loadWord   = 0x20 // BPF_LD | BPF_W | BPF_ABS
	jumpEqual  = 0x15 // BPF_JMP | BPF_JEQ | BPF_K
	giveBack   = 0x06 // BPF_RET | BPF_K
	allow      = 0x7fff0000
	kill       = 0x80000000 // SECCOMP_RET_KILL_PROCESS
	offNumber  = 0          // of seccomp_data: the number of the call
	offMachine = 4          // the machine it is a number of
	offFirst   = 16         // the first argument
	noNewPrivs = 38         // PR_SET_NO_NEW_PRIVS
	setSeccomp = 22         // PR_SET_SECCOMP
	filterMode = 2          // SECCOMP_MODE_FILTER
)

// execOffline becomes another program, which can not leave this machine.
func execOffline(args []string) error {
	machine := map[string]uint32{"amd64": 0xc000003e, "arm64": 0xc00000b7}[runtime.GOARCH]
	code := []struct {
		op     uint16
		jt, jf uint8
		k      uint32
	}{
		{loadWord, 0, 0, offMachine},
		{jumpEqual, 1, 0, machine},
		{giveBack, 0, 0, kill},
		{loadWord, 0, 0, offNumber},
		{jumpEqual, 0, 3, uint32(syscall.SYS_SOCKET)},
		{loadWord, 0, 0, offFirst},
		{jumpEqual, 1, 0, syscall.AF_UNIX},
		{giveBack, 0, 0, kill},
		{giveBack, 0, 0, allow},
	}
	program := struct {
		n    uint16
		code unsafe.Pointer
	}{uint16(len(code)), unsafe.Pointer(&code[0])}
	runtime.LockOSThread() // the filter is of this thread, and goes with it into the other program
	if _, _, e := syscall.RawSyscall6(syscall.SYS_PRCTL, noNewPrivs, 1, 0, 0, 0, 0); e != 0 {
		return e
	}
	if _, _, e := syscall.RawSyscall6(syscall.SYS_PRCTL, setSeccomp, filterMode, uintptr(unsafe.Pointer(&program)), 0, 0, 0); e != 0 {
		return e
	}
	runtime.KeepAlive(code)
	env := []string{"RISEWRIGHT_OFFLINE=" + os.Getenv("RISEWRIGHT_THEN")}
	for _, v := range os.Environ() {
		if !strings.HasPrefix(v, "RISEWRIGHT_OFFLINE=") {
			env = append(env, v)
		}
	}
	return syscall.Exec(args[0], args, env)
}

// offline returns a command that runs this test binary, or another program,
// under the filter.
func offline(t *testing.T, then string, args ...string) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if then != "" {
		args = append([]string{exe}, args...)
	}
	c := exec.Command(exe, args...)
	home := t.TempDir()
	c.Dir = home
	c.Env = []string{"RISEWRIGHT_OFFLINE=filter", "RISEWRIGHT_THEN=" + then, "HOME=" + home, "PATH=" + os.Getenv("PATH"), "LANG=C.UTF-8"}
	return c
}

// killedByFilter says whether a process ended at a call that the filter forbids.
func killedByFilter(err error) bool {
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		return false
	}
	st, ok := exit.Sys().(syscall.WaitStatus)
	return ok && st.Signaled() && st.Signal() == syscall.SIGSYS
}

// The filter does what it is for: who dials is killed, and who stays on the
// machine is not.
func TestTheFilterKillsWhoDials(t *testing.T) {
	if out, err := offline(t, "dial").CombinedOutput(); !killedByFilter(err) {
		t.Fatalf("who dials ends with %v and says %q", err, out)
	}
	if out, err := offline(t, "local").CombinedOutput(); err != nil || !strings.Contains(string(out), "local: <nil>") {
		t.Fatalf("who stays here ends with %v and says %q", err, out)
	}
}

// Every command does its work under the filter.
func TestCommandsUseNoNetwork(t *testing.T) {
	for _, row := range [][]string{
		{"version"}, {"help"}, {"help", "template"}, {"schema", "job"},
		{"solve", "demo:tapering"}, {"solve", "demo:well-behaved", "--json"}, {"work", "demo:well-behaved"},
		{"sheets", "demo:unfinished", "--no-pictures", "--to", "out"}, {"template", "demo:tapering", "--to", "out"}, {"demo", "--to", "jobs"},
		{}, // the demo of a machine without a display
		{"solve", "not-there.json"},
	} {
		var out, errs bytes.Buffer
		c := offline(t, "program", row...)
		c.Stdout, c.Stderr = &out, &errs
		err := c.Run()
		var exit *exec.ExitError
		switch {
		case killedByFilter(err):
			t.Errorf("%v: it went to the network", row)
		case err != nil && (!errors.As(err, &exit) || exit.ExitCode() < 0 || exit.ExitCode() > 2):
			t.Errorf("%v: %v: %s", row, err, errs.String())
		case out.Len() == 0 && errs.Len() == 0:
			t.Errorf("%v: it did nothing", row)
		}
	}
}

// The window opens and stays open under the filter. It needs a build with a
// window, which RISEWRIGHT_WINDOW names, and Xvfb.
func TestTheWindowUsesNoNetwork(t *testing.T) {
	program := os.Getenv("RISEWRIGHT_WINDOW")
	xvfb, err := exec.LookPath("Xvfb")
	if program == "" || err != nil {
		t.Skip("RISEWRIGHT_WINDOW names no program with a window, or there is no Xvfb; .dev/test has both")
	}
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	server := exec.Command(xvfb, "-displayfd", "3", "-screen", "0", "1280x800x24", "-nolisten", "tcp")
	server.ExtraFiles = []*os.File{w}
	if err := server.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	defer func() {
		server.Process.Kill()
		server.Wait()
	}()
	text := make([]byte, 16)
	n, err := r.Read(text)
	display, bad := strconv.Atoi(strings.TrimSpace(string(text[:n])))
	if err != nil && err != io.EOF || bad != nil {
		t.Fatalf("Xvfb says %q: %v", text[:n], err)
	}
	c := offline(t, "", program)
	c.Env = append(c.Env, fmt.Sprintf("DISPLAY=:%d", display))
	var errs bytes.Buffer
	c.Stderr = &errs
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	select {
	case err := <-ended:
		if killedByFilter(err) {
			t.Fatal("it went to the network")
		}
		t.Fatalf("it ended by itself: %v: %s", err, errs.String())
	case <-time.After(8 * time.Second):
		c.Process.Kill()
		<-ended
	}
}
