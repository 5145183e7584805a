// Risewright turns the readings of a carpeted, site-built stair into proved cut
// cards for its hardwood overlay. "risewright help" says how to run it.
package main

import (
	"os"
	"runtime"
	"time"

	"risewright/app/command"
)

func main() {
	os.Exit(command.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, command.Env{
		Clock:  time.Now,
		System: runtime.GOOS,
		Getenv: os.Getenv,
	}))
}
