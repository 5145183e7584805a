package model

import (
	"reflect"
	"testing"
)

// Every field that an edit can change has a name, and no name is of a field
// that is gone.
func TestEveryFieldHasAName(t *testing.T) {
	for _, c := range []struct {
		of    any
		names map[string]string
		spare string // the field that says which one is changed
	}{
		{SetDetails{}, detailNames, ""}, {Existing{}, existingNames, ""}, {Overlay{}, overlayNames, ""}, {Shop{}, shopNames, ""},
		{Wishes{}, wishNames, ""}, {Lighting{}, lightNames, ""}, {SetStep{}, stepNames, "Step"},
	} {
		typ := reflect.TypeOf(c.of)
		for i := range typ.NumField() {
			if name := typ.Field(i).Name; name != c.spare && c.names[name] == "" {
				t.Errorf("%s.%s has no name", typ, name)
			}
		}
		for name := range c.names {
			if _, ok := typ.FieldByName(name); !ok {
				t.Errorf("%s has no field %s", typ, name)
			}
		}
	}
}
