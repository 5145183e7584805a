package model

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
)

// binder copies nodes into Go values, strictly: every field of a struct that
// is always written must be there, no other may be, and each must have the
// type of its Go field. encoding/json would take other letter case, ignore
// missing fields and not say where it failed.
type binder struct {
	data []byte
	path []string
}

// fieldOf is a struct field as the file knows it.
type fieldOf struct {
	name     string
	index    []int
	optional bool // left out of the file when zero
}

// fieldsOf lists the fields of struct type t by their JSON names, those of
// embedded structs among them.
func fieldsOf(t reflect.Type) []fieldOf {
	var out []fieldOf
	for i := 0; i < t.NumField(); i++ {
		f := t.Field(i)
		if f.Anonymous {
			for _, g := range fieldsOf(f.Type) {
				g.index = append([]int{i}, g.index...)
				out = append(out, g)
			}
			continue
		}
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "" || name == "-" {
			continue
		}
		out = append(out, fieldOf{name: name, index: []int{i},
			optional: strings.Contains(options, "omitempty") || strings.Contains(options, "omitzero")})
	}
	return out
}

func (b *binder) fault(at int, problem, remedy string) *FileError {
	line, column := lineAndColumn(b.data, at)
	return &FileError{Path: pointer(b.path), Line: line, Column: column, Problem: problem, Remedy: remedy}
}

// want returns an error unless n is of kind k.
func (b *binder) want(n *node, k nodeKind) *FileError {
	if n.kind == k {
		return nil
	}
	problem := fmt.Sprintf("there is %s where %s belongs", n.kind.words(), k.words())
	if k == numberNode && n.kind == textNode {
		return b.fault(n.at, problem, fmt.Sprintf("write the number without quotes, not %q", shorten(n.text)))
	}
	return b.fault(n.at, problem, "see the schema of the job file")
}

// maxFileNumber bounds every number of a file. Validate sets the limits that
// have a meaning; this one keeps sums of squares finite.
const maxFileNumber = 1e9

func (b *binder) bind(n *node, v reflect.Value) *FileError {
	switch v.Addr().Interface().(type) {
	case *uuid.UUID, *time.Time:
		return b.bindText(n, v)
	}
	switch v.Kind() {
	case reflect.String:
		if err := b.want(n, textNode); err != nil {
			return err
		}
		v.SetString(n.text)
	case reflect.Bool:
		if err := b.want(n, boolNode); err != nil {
			return err
		}
		v.SetBool(n.truth)
	case reflect.Int:
		if err := b.want(n, numberNode); err != nil {
			return err
		}
		i, err := strconv.ParseInt(n.text, 10, 64)
		if err != nil || math.Abs(float64(i)) > maxFileNumber {
			return b.fault(n.at, fmt.Sprintf("%s is not a whole number within range", shorten(n.text)), "write a whole number without point or exponent")
		}
		v.SetInt(i)
	case reflect.Float64:
		if err := b.want(n, numberNode); err != nil {
			return err
		}
		f, err := strconv.ParseFloat(n.text, 64)
		if err != nil || math.Abs(f) > maxFileNumber {
			return b.fault(n.at, fmt.Sprintf("the number %s is out of range", shorten(n.text)), "lengths are in millimetres, angles in radians")
		}
		v.SetFloat(f)
	case reflect.Slice:
		return b.bindList(n, v)
	case reflect.Struct:
		return b.bindStruct(n, v)
	default:
		return b.fault(n.at, fmt.Sprintf("the program can not read a %s", v.Type()), "report this; your file is unchanged") // cannot occur: a test binds every type of Job
	}
	return nil
}

// bindText reads ids and times, which are text with a form of its own.
func (b *binder) bindText(n *node, v reflect.Value) *FileError {
	if err := b.want(n, textNode); err != nil {
		return err
	}
	err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(n.text))
	if id, ok := v.Interface().(uuid.UUID); ok {
		// the library also takes braces, urn: and no hyphens; one form is enough
		if err != nil || !strings.EqualFold(id.String(), n.text) {
			return b.fault(n.at, fmt.Sprintf("%q is not an id", shorten(n.text)), "write a UUID such as 0b6d1f0e-5c1c-4b5f-9a55-3c2f1d7a9e10")
		}
		return nil
	}
	if err != nil {
		return b.fault(n.at, fmt.Sprintf("%q is not a time", shorten(n.text)), "write it as 2026-11-02T09:30:00Z")
	}
	return nil
}

func (b *binder) bindList(n *node, v reflect.Value) *FileError {
	if err := b.want(n, arrayNode); err != nil {
		return err
	}
	out := reflect.MakeSlice(v.Type(), len(n.items), len(n.items))
	for i, item := range n.items {
		b.path = append(b.path, strconv.Itoa(i))
		if err := b.bind(item, out.Index(i)); err != nil {
			return err
		}
		b.path = b.path[:len(b.path)-1]
	}
	v.Set(out)
	return nil
}

func (b *binder) bindStruct(n *node, v reflect.Value) *FileError {
	if err := b.want(n, objectNode); err != nil {
		return err
	}
	fields := fieldsOf(v.Type())
	for _, m := range n.members {
		f, ok := fieldNamed(fields, m.name)
		b.path = append(b.path, m.name)
		if !ok {
			remedy := "remove it, or check its spelling"
			if g, near := fieldNamedLike(fields, m.name); near {
				remedy = fmt.Sprintf("is %q meant?", g)
			}
			return b.fault(m.at, fmt.Sprintf("the field %q is not known here", shorten(m.name)), remedy)
		}
		if err := b.bind(m.value, v.FieldByIndex(f.index)); err != nil {
			return err
		}
		b.path = b.path[:len(b.path)-1]
	}
	for _, f := range fields {
		if !f.optional && n.member(f.name) == nil {
			return b.fault(n.at, fmt.Sprintf("the field %q is missing", f.name), "add it here; see the schema of the job file")
		}
	}
	return nil
}

func fieldNamed(fields []fieldOf, name string) (fieldOf, bool) {
	for _, f := range fields {
		if f.name == name {
			return f, true
		}
	}
	return fieldOf{}, false
}

// fieldNamedLike finds the field that name would be but for case, hyphens and
// spaces.
func fieldNamedLike(fields []fieldOf, name string) (string, bool) {
	plain := strings.NewReplacer("_", "", "-", "", " ", "")
	for _, f := range fields {
		if strings.EqualFold(plain.Replace(f.name), plain.Replace(name)) {
			return f.name, true
		}
	}
	return "", false
}

// shorten cuts text that came from a file to what fits in a message.
func shorten(s string) string {
	const most = 40 // characters
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most]) + "…"
}
