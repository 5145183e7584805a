package assets

import (
	"embed"
	"fmt"
)

//go:embed controller
var controller embed.FS

// ControllerFiles are the names of the sources that go onto the controller of
// the light bars. Package app/kit writes them beside the tables of a stair, with
// a stair_limits.h of that stair.
func ControllerFiles() []string {
	return []string{"stair_core.h", "stair_core.c", "stair_limits.h", "stair_hardware.h", "stair_main.c", "host.c"}
}

// ControllerFile returns the text of one of ControllerFiles.
func ControllerFile(name string) ([]byte, error) {
	text, err := controller.ReadFile("controller/" + name)
	if err != nil {
		return nil, fmt.Errorf("assets: %w", err)
	}
	return text, nil
}
