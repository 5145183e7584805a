package model_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"risewright/model"
)

// leaf is one value of a job and the way to it.
type leaf struct {
	path string
	at   reflect.Value
}

// leaves calls see for every value of v, of lists for the first element, which
// is put there if there is none.
func leaves(v reflect.Value, path string, see func(leaf)) {
	switch v.Interface().(type) {
	case model.ID:
		v.Set(reflect.ValueOf(model.NamedID(model.ID{}, path))) // so that nothing has no id
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		if v.Type().PkgPath() != reflect.TypeFor[model.Job]().PkgPath() {
			return // a time
		}
		for i := range v.NumField() {
			leaves(v.Field(i), strings.TrimPrefix(path+"."+v.Type().Field(i).Name, "."), see)
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		} else {
			v.Set(reflect.AppendSlice(reflect.MakeSlice(v.Type(), 0, v.Len()), v)) // not shared with other jobs
		}
		see(leaf{path, v})
		leaves(v.Index(0), path+".0", see)
	default:
		see(leaf{path, v})
	}
}

// blocksOf returns the findings that stop a job.
func blocksOf(j model.Job) map[model.Finding]bool {
	out := map[model.Finding]bool{}
	for _, f := range j.Validate() {
		if f.Severity == model.Block {
			out[f] = true
		}
	}
	return out
}

// Every number, text and list of a job has a limit: whatever a stranger's file
// holds, Validate stops what is absurd, so that no later stage meets it.
func TestEveryValueHasALimit(t *testing.T) {
	// all lists are filled first, so that each absurdity is the only new one
	var paths []string
	filled := func() model.Job {
		j := plainJob(2)
		paths = nil
		leaves(reflect.ValueOf(&j).Elem(), "", func(l leaf) { paths = append(paths, l.path) })
		j.Flight.Steps[0].Balusters[0].Side = model.Left // or that would be all that is said of it
		return j
	}
	job := filled()
	before := blocksOf(job)

	find := func(j *model.Job, path string) reflect.Value {
		v := reflect.ValueOf(j).Elem()
		for _, name := range strings.Split(path, ".") {
			if name == "0" {
				v = v.Index(0)
			} else {
				v = v.FieldByName(name)
			}
		}
		return v
	}
	tried := 0
	try := func(path, what string, set func(reflect.Value)) {
		tried++
		j := filled()
		set(find(&j, path))
		for _, f := range j.Validate() {
			if f.Severity == model.Block && !before[f] {
				return
			}
		}
		t.Errorf("%s: %s is let in", path, what)
	}
	long := strings.Repeat("x", 1<<20)
	for _, path := range slices.Clone(paths) {
		switch v := find(&job, path); v.Kind() {
		case reflect.Float64:
			for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 9e8} {
				try(path, fmt.Sprint(x), func(v reflect.Value) { v.SetFloat(x) })
			}
		case reflect.Int:
			try(path, "900000000", func(v reflect.Value) { v.SetInt(900_000_000) })
		case reflect.String:
			try(path, "a text of 1 MB", func(v reflect.Value) { v.SetString(long) })
		case reflect.Slice:
			try(path, "a list of 20,000", func(v reflect.Value) {
				big := reflect.MakeSlice(v.Type(), 20_000, 20_000)
				for i := range big.Len() {
					big.Index(i).Set(v.Index(0))
				}
				v.Set(big)
			})
		}
	}
	t.Logf("%d values of %d kinds of place tried", tried, len(paths))
	if tried < 300 {
		t.Error("too few were tried: the job was not walked through")
	}
}
