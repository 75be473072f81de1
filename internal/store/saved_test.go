package store

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// writeSaved makes TestWriteSavedFile write the file of the present version. Run it once for each
// new version of the file, before its release:
//
//	go test ./internal/store -run TestWriteSavedFile -write-saved
var writeSaved = flag.Bool("write-saved", false, "write testdata/saved for the present version of the file")

// savedVersion is the version of the file that TestWriteSavedFile writes.
const savedVersion = 2

func TestWriteSavedFile(t *testing.T) {
	if !*writeSaved {
		t.Skip("writes a file; needs -write-saved")
	}
	target := filepath.Join("testdata", "saved", fmt.Sprintf("v%d.db", savedVersion))
	if _, err := os.Stat(target); err == nil {
		t.Fatalf("%s is there already; a saved file is never replaced", target)
	}
	folder := t.TempDir()
	s, err := Open(t.Context(), testOptions(folder))
	if err != nil {
		t.Fatal(err)
	}
	fillSaved(t, t.Context(), s)
	if err := s.Close(); err != nil { // the last one to close puts the log into the file
		t.Fatal(err)
	}
	data := must[[]byte](t)(os.ReadFile(filepath.Join(folder, fileName)))
	if err := os.WriteFile(target, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// fillSaved stores a little of everything that the file holds. Work events came with version 2.
func fillSaved(t *testing.T, ctx context.Context, s *Store) {
	t.Helper()
	stool := must[Document](t)(s.Pieces().Create(ctx, Draft{"Step stool", "longgrain: 1\nname: Step stool\n", "first thought"}))
	must[Document](t)(s.Pieces().Save(ctx, stool.ID, 1, Draft{"Step stool", "longgrain: 1\nname: Step stool\n# ½″ higher\n", ""}))
	chest := must[Document](t)(s.Pieces().Create(ctx, Draft{"Toy chest", "longgrain: 1\nname: Toy chest\n", ""}))
	must[Document](t)(s.Shops().Create(ctx, Draft{"Class shop", "longgrain: 1\n", ""}))
	test := must[JointTest](t)(s.AddTest(ctx, TestRecord{Joint: "dowel", Species: "pine", Load: Typed{"212 lbf", 943.02298}}))
	must[JointTest](t)(s.CorrectTest(ctx, test.ID, 1, TestRecord{Joint: "dowel", Species: "pine", Load: Typed{"221 lbf", 983.05692}}))
	must[string](t)(s.AddPicture(ctx, Picture{"image/png", []byte("\x89PNG")}))
	if err := s.Pieces().Delete(ctx, chest.ID); err != nil {
		t.Fatal(err)
	}
	if err := s.SetSetting(ctx, "paper", "a4"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddWork(ctx, stool.ID, []WorkEvent{{ID: "e1", Task: "cut", Name: "cut the boards", Action: "done", At: "2026-05-05T19:00", Note: "½ h"}}); err != nil {
		t.Fatal(err)
	}
}

func TestEverySavedFileVersionStillOpens(t *testing.T) {
	files := must[[]string](t)(filepath.Glob(filepath.Join("testdata", "saved", "v*.db")))
	if len(files) == 0 {
		t.Fatal("there are no saved files")
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			folder := t.TempDir()
			data := must[[]byte](t)(os.ReadFile(file))
			if err := os.WriteFile(filepath.Join(folder, fileName), data, 0o600); err != nil {
				t.Fatal(err)
			}
			s := openTest(t, folder)
			checkSaved(t, t.Context(), s)
			events := must[[]WorkEvent](t)(s.Work(t.Context(), "id1"))
			if old := filepath.Base(file) == "v1.db"; old && len(events) > 0 || !old && (len(events) != 1 || events[0].Note != "½ h" || events[0].At != "2026-05-05T19:00") {
				t.Errorf("work is %+v", events)
			}
		})
	}
}

func checkSaved(t *testing.T, ctx context.Context, s *Store) {
	t.Helper()
	stool := must[Document](t)(s.Pieces().Get(ctx, "id1"))
	if stool.Number != 2 || stool.Text != "longgrain: 1\nname: Step stool\n# ½″ higher\n" || stool.Created != firstMinute {
		t.Errorf("the stool is %+v", stool)
	}
	if first := must[Document](t)(s.Pieces().Open(ctx, "id1", 1)); first.Note != "first thought" {
		t.Errorf("the first version is %+v", first)
	}
	if deleted := must[[]Document](t)(s.Pieces().ListDeleted(ctx)); len(deleted) != 1 || deleted[0].Name != "Toy chest" {
		t.Errorf("deleted are %+v", deleted)
	}
	if shops := must[[]Document](t)(s.Shops().List(ctx)); len(shops) != 1 || shops[0].Name != "Class shop" {
		t.Errorf("shops are %+v", shops)
	}
	if tests := must[[]JointTest](t)(s.Tests(ctx)); len(tests) != 1 || tests[0].Version != 2 || tests[0].Load.Text != "221 lbf" {
		t.Errorf("tests are %+v", tests)
	}
	if paper := must[string](t)(s.Setting(ctx, "paper")); paper != "a4" {
		t.Errorf("paper is %q", paper)
	}
	must[Document](t)(s.Pieces().Save(ctx, "id1", 2, Draft{"Step stool", "longgrain: 1\n", "saved by this program"}))
}
