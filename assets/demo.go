package assets

import (
	"embed"
	"fmt"
)

//go:embed demo/*.risewright.json
var demos embed.FS

// DemoPrefix stands before the name of a demo job where a path may stand, as in
// demo:tapering.
const DemoPrefix = "demo:"

// DemoJob returns the job file of the demo job called name, such as
// "tapering": a fresh copy on each call.
func DemoJob(name string) ([]byte, error) {
	text, err := demos.ReadFile("demo/" + name + ".risewright.json")
	if err != nil {
		return nil, fmt.Errorf("assets: there is no demo job %q", name)
	}
	return text, nil
}
