package keeping

import (
	"errors"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"longgrain/internal/store"
	"longgrain/internal/web"
)

func TestNothingOfATestRecordIsLostOnTheWay(t *testing.T) {
	kept, err := store.Open(t.Context(), store.Options{Folder: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	defer kept.Close()
	length := web.Typed{Text: "12 in", SI: 0.3048}
	want := web.TestRecord{Group: "autumn class", Joint: "dowel", Species: "pine", Count: 2, Density: 430, Moisture: 9.5,
		Sizes: map[string]web.Typed{"diameter": {Text: "10 mm", SI: 0.01}}, Glue: "PVA", CureHours: 24, Span: &length, Lever: &length,
		Direction: "open", Load: web.Typed{Text: "950 N", SI: 950}, Predicted: &web.Typed{Text: "900 N", SI: 900}, Failure: "rail split", Note: "knot near", Picture: "abc",
		Tested: "4 May", Withdrawn: true}
	for i, v := 0, reflect.ValueOf(want); i < v.NumField(); i++ {
		if v.Field(i).IsZero() {
			t.Fatalf("the record of this test leaves %s empty", v.Type().Field(i).Name)
		}
	}
	added, err := In(kept).AddTest(t.Context(), want)
	if err != nil {
		t.Fatal(err)
	}
	tests, err := In(kept).Tests(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]web.JointTest{added}, tests); diff != "" {
		t.Errorf("read back differently (-added +read):\n%s", diff)
	}
	if diff := cmp.Diff(want, added.TestRecord); diff != "" {
		t.Errorf("kept differently (-given +kept):\n%s", diff)
	}
}

func TestErrorsOfTheStoreBecomeThoseOfTheServer(t *testing.T) {
	var conflict *web.ConflictError
	if err := translate(&store.ConflictError{Base: 1, Current: 3}); !errors.As(err, &conflict) || conflict.Current != 3 {
		t.Errorf("a conflict became %v", err)
	}
	for from, to := range map[error]error{store.ErrNotFound: web.ErrNotFound, store.ErrDeleted: web.ErrDeleted} {
		if err := translate(from); !errors.Is(err, to) || !errors.Is(err, from) {
			t.Errorf("%v became %v", from, err)
		}
	}
	if err := translate(nil); err != nil {
		t.Errorf("nothing became %v", err)
	}
}
