package main

import (
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/household"
	"kitmuster/lint/unit"
)

// Each setting of a household that is not in its job reaches the workers, and is part of the key of what is kept: a field that is
// forgotten would give stale answers.
func TestSettingsReachWorkersAndCache(t *testing.T) {
	// And not in what is encoded; Show is a function, made of --root on either side, and Memory what the key leads to.
	inJob := []string{"On", "Show", "Memory"}
	of := reflect.TypeFor[household.Options]()
	for i := range of.NumField() {
		name := of.Field(i).Name
		var o household.Options
		f := reflect.ValueOf(&o).Elem().Field(i)
		switch v := f.Addr().Interface().(type) {
		case *[]string:
			*v = []string{"a", "b,c"}
		case *[]int:
			*v = []int{3, 1}
		case *unit.Date:
			*v = 20000
		case **household.Memory:
			*v = household.Remember(nil, nil)
		case *func(string) string:
			*v = func(s string) string { return s }
		default:
			switch f.Kind() {
			case reflect.String:
				f.SetString("winter, \"cold\"")
			case reflect.Struct: // a time of day
				f.FieldByName("Set").SetBool(true)
				f.FieldByName("Value").SetInt(61)
			default:
				t.Fatalf("%s: say here how a %s is set", name, f.Type())
			}
		}
		said := encoded(o)
		back, err := decoded(said)
		if err != nil {
			t.Fatal(err)
		}
		left := said == encoded(household.Options{})
		if slices.Contains(inJob, name) != left {
			t.Errorf("%s: it is left out: %v", name, left)
		}
		if !left {
			if diff := cmp.Diff(o, back); diff != "" {
				t.Errorf("%s (-said +heard):\n%s", name, diff)
			}
		}
	}
}
