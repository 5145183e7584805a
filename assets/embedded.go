package assets

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

//go:embed rules/*.json instruments.json lighting.json sensing.json stock.json
var tables embed.FS

// read decodes the embedded table called name into v. A field that v does not
// know is an error, so that a misspelt field cannot silently mean zero.
func read(name string, v any) error {
	text, err := tableText(name)
	if err != nil {
		return err
	}
	return decode(name, text, v)
}

// tableText returns the embedded table called name.
func tableText(name string) ([]byte, error) {
	text, err := tables.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("assets: %w", err)
	}
	return text, nil
}

func decode(name string, text []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return fmt.Errorf("assets: %s: %w", name, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return fmt.Errorf("assets: %s: text after the table", name)
	}
	return nil
}
