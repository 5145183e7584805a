package assets

import (
	"embed"
	"fmt"
)

//go:embed controller
var controller embed.FS

// ControllerFiles are the names of the sources that go onto the controller of
// the light bars, as package app/kit writes them beside the tables of a stair.
func ControllerFiles() []string { return []string{"stair_core.h", "stair_core.c", "host.c"} }

// ControllerFile returns the text of one of ControllerFiles.
func ControllerFile(name string) ([]byte, error) {
	text, err := controller.ReadFile("controller/" + name)
	if err != nil {
		return nil, fmt.Errorf("assets: %w", err)
	}
	return text, nil
}
