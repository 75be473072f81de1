package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// openTest opens a store with a clock that goes on by a minute at each reading and counted names.
func openTest(t *testing.T, folder string) *Store {
	t.Helper()
	s, err := Open(t.Context(), testOptions(folder))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

var firstMinute = time.Date(2026, 5, 4, 18, 30, 0, 0, time.UTC)

func testOptions(folder string) Options {
	var lock sync.Mutex
	minute, id := 0, 0
	return Options{
		Folder: folder,
		Now: func() time.Time {
			lock.Lock()
			defer lock.Unlock()
			minute++
			return firstMinute.Add(time.Duration(minute-1) * time.Minute)
		},
		NewID: func() string {
			lock.Lock()
			defer lock.Unlock()
			id++
			return fmt.Sprintf("id%d", id)
		},
	}
}

func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func TestEveryVersionCanBeOpenedAgain(t *testing.T) {
	ctx, pieces := t.Context(), openTest(t, t.TempDir()).Pieces()
	doc := must[Document](t)
	first := doc(pieces.Create(ctx, Draft{"Step stool", "longgrain: 1\n", "first thought"}))
	second := doc(pieces.Save(ctx, first.ID, 1, Draft{"Step stool, higher", "longgrain: 1\n# higher\n", ""}))
	third := doc(pieces.Save(ctx, first.ID, 2, Draft{"Step stool, higher", "longgrain: 1\n# wider\n", "for two"}))

	for _, want := range []Document{first, second, third} {
		if diff := cmp.Diff(want, doc(pieces.Open(ctx, first.ID, want.Number))); diff != "" {
			t.Errorf("version %d reads back differently (-saved +read):\n%s", want.Number, diff)
		}
	}
	if diff := cmp.Diff(third, doc(pieces.Get(ctx, first.ID))); diff != "" {
		t.Errorf("the newest version is not the last saved:\n%s", diff)
	}
	versions := must[[]Version](t)(pieces.Versions(ctx, first.ID))
	if len(versions) != 3 || versions[0].Number != 3 || versions[0].Note != "for two" || versions[2].Name != "Step stool" {
		t.Errorf("versions are listed as %+v", versions)
	}
	if first.Created != firstMinute || third.Created != first.Created || !third.Saved.After(second.Saved) {
		t.Errorf("times are %v, %v, %v", first.Created, second.Saved, third.Saved)
	}
}

func TestSaveFromAnOldVersionIsRefused(t *testing.T) {
	ctx, pieces := t.Context(), openTest(t, t.TempDir()).Pieces()
	p := must[Document](t)(pieces.Create(ctx, Draft{Text: "a"}))
	must[Document](t)(pieces.Save(ctx, p.ID, 1, Draft{Text: "b"}))
	_, err := pieces.Save(ctx, p.ID, 1, Draft{Text: "c"})
	var conflict *ConflictError
	if !errors.As(err, &conflict) || *conflict != (ConflictError{Base: 1, Current: 2}) {
		t.Fatalf("got %v", err)
	}
	if !strings.Contains(err.Error(), "save piece "+p.ID) {
		t.Errorf("the error does not say what was being done: %v", err)
	}
	if _, err := pieces.Save(ctx, p.ID, 7, Draft{Text: "c"}); !errors.As(err, &conflict) {
		t.Errorf("a base that does not exist yet was taken: %v", err)
	}
}

func TestOnlyOneMayMakeADocumentOfAGivenName(t *testing.T) {
	ctx, shops := t.Context(), openTest(t, t.TempDir()).Shops()
	if made := must[Document](t)(shops.Save(ctx, "shop", 0, Draft{Text: "a"})); made.Number != 1 || made.ID != "shop" {
		t.Errorf("made as %+v", made)
	}
	var conflict *ConflictError
	if _, err := shops.Save(ctx, "shop", 0, Draft{Text: "b"}); !errors.As(err, &conflict) || conflict.Current != 1 {
		t.Errorf("made again: %v", err)
	}
}

func TestASaveSentAgainAddsNothing(t *testing.T) {
	ctx, pieces := t.Context(), openTest(t, t.TempDir()).Pieces()
	p := must[Document](t)(pieces.Create(ctx, Draft{Text: "a"}))
	once := must[Document](t)(pieces.Save(ctx, p.ID, 1, Draft{Text: "b"}))
	again := must[Document](t)(pieces.Save(ctx, p.ID, 1, Draft{Text: "b"}))
	if diff := cmp.Diff(once, again); diff != "" {
		t.Errorf("the second answer differs:\n%s", diff)
	}
}

func TestDeletedPieceIsRestoredWithItsVersions(t *testing.T) {
	ctx, pieces := t.Context(), openTest(t, t.TempDir()).Pieces()
	p := must[Document](t)(pieces.Create(ctx, Draft{Name: "Toy chest", Text: "a"}))
	must[Document](t)(pieces.Save(ctx, p.ID, 1, Draft{Name: "Toy chest", Text: "b"}))
	for range 2 { // twice, because a person may press twice
		if err := pieces.Delete(ctx, p.ID); err != nil {
			t.Fatal(err)
		}
	}
	if list := must[[]Document](t)(pieces.List(ctx)); len(list) != 0 {
		t.Errorf("a deleted piece is still listed: %+v", list)
	}
	deleted := must[[]Document](t)(pieces.ListDeleted(ctx))
	if len(deleted) != 1 || deleted[0].Deleted.IsZero() || deleted[0].Name != "Toy chest" {
		t.Errorf("deleted pieces are listed as %+v", deleted)
	}
	if _, err := pieces.Save(ctx, p.ID, 2, Draft{Text: "c"}); !errors.Is(err, ErrDeleted) {
		t.Errorf("saving a deleted piece: %v", err)
	}
	if err := pieces.Restore(ctx, p.ID); err != nil {
		t.Fatal(err)
	}
	if got := must[Document](t)(pieces.Get(ctx, p.ID)); got.Number != 2 || !got.Deleted.IsZero() {
		t.Errorf("restored as %+v", got)
	}
}

func TestUnknownNamesAreNotFound(t *testing.T) {
	ctx, s := t.Context(), openTest(t, t.TempDir())
	shop := must[Document](t)(s.Shops().Create(ctx, Draft{Text: "a"}))
	calls := map[string]func() error{
		"get":            func() error { _, err := s.Pieces().Get(ctx, "none"); return err },
		"a shop":         func() error { _, err := s.Pieces().Get(ctx, shop.ID); return err },
		"version":        func() error { _, err := s.Shops().Open(ctx, shop.ID, 2); return err },
		"below version":  func() error { _, err := s.Shops().Open(ctx, shop.ID, -1); return err },
		"save":           func() error { _, err := s.Pieces().Save(ctx, "none", 1, Draft{}); return err },
		"delete":         func() error { return s.Pieces().Delete(ctx, "none") },
		"restore a shop": func() error { return s.Pieces().Restore(ctx, shop.ID) },
		"versions":       func() error { _, err := s.Pieces().Versions(ctx, "none"); return err },
		"picture":        func() error { _, err := s.Picture(ctx, "none"); return err },
		"test":           func() error { _, err := s.TestVersions(ctx, "none"); return err },
		"correction":     func() error { _, err := s.CorrectTest(ctx, "none", 1, TestRecord{}); return err },
	}
	for name, call := range calls {
		if err := call(); !errors.Is(err, ErrNotFound) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestHistoryCannotBeChanged(t *testing.T) {
	ctx, s := t.Context(), openTest(t, t.TempDir())
	must[Document](t)(s.Pieces().Create(ctx, Draft{Text: "a"}))
	must[JointTest](t)(s.AddTest(ctx, TestRecord{Joint: "dowel"}))
	for _, statement := range []string{
		`UPDATE document_versions SET text = 'b'`,
		`DELETE FROM document_versions`,
		`UPDATE joint_tests SET record = '{}'`,
		`DELETE FROM joint_tests`,
	} {
		if _, err := s.writing.ExecContext(ctx, statement); err == nil || !strings.Contains(err.Error(), "never") {
			t.Errorf("%s: %v", statement, err)
		}
	}
}

func TestACorrectionIsANewVersionOfATest(t *testing.T) {
	ctx, s := t.Context(), openTest(t, t.TempDir())
	record := TestRecord{
		Joint: "dowel", Species: "pine", Density: 430, Moisture: 9.5, Glue: "PVA", CureHours: 24,
		Sizes: map[string]Typed{"diameter": {"3/8 in", 0.009525}},
		Lever: &Typed{"300 mm", 0.3}, Load: Typed{"212 lbf", 943.02298}, Direction: "open", Failure: "rail split", Picture: "abc",
	}
	first := must[JointTest](t)(s.AddTest(ctx, record))
	other := must[JointTest](t)(s.AddTest(ctx, TestRecord{Joint: "mortise and tenon"}))
	corrected := record
	corrected.Load = Typed{"221 lbf", 983.05692}
	second := must[JointTest](t)(s.CorrectTest(ctx, first.ID, 1, corrected))

	if diff := cmp.Diff([]JointTest{second, other}, must[[]JointTest](t)(s.Tests(ctx))); diff != "" {
		t.Errorf("the log reads back differently:\n%s", diff)
	}
	if diff := cmp.Diff([]JointTest{second, first}, must[[]JointTest](t)(s.TestVersions(ctx, first.ID))); diff != "" {
		t.Errorf("the versions of the test read back differently:\n%s", diff)
	}
	var conflict *ConflictError
	if _, err := s.CorrectTest(ctx, first.ID, 1, record); !errors.As(err, &conflict) || conflict.Current != 2 {
		t.Errorf("a correction of an old version: %v", err)
	}
}

func TestTheSamePictureIsKeptOnce(t *testing.T) {
	ctx, s := t.Context(), openTest(t, t.TempDir())
	want := Picture{"image/png", []byte{0x89, 'P', 'N', 'G', 0}}
	id := must[string](t)(s.AddPicture(ctx, want))
	if again := must[string](t)(s.AddPicture(ctx, want)); again != id {
		t.Errorf("kept again as %s, not %s", again, id)
	}
	if diff := cmp.Diff(want, must[Picture](t)(s.Picture(ctx, id))); diff != "" {
		t.Error(diff)
	}
}

func TestSettingsAreReplaced(t *testing.T) {
	ctx, s := t.Context(), openTest(t, t.TempDir())
	for _, value := range []string{"", "letter", "a4"} {
		if value != "" {
			if err := s.SetSetting(ctx, "paper", value); err != nil {
				t.Fatal(err)
			}
		}
		if got := must[string](t)(s.Setting(ctx, "paper")); got != value {
			t.Errorf("got %q, want %q", got, value)
		}
	}
}

func TestSavingStopsWhenTheCallerGivesUp(t *testing.T) {
	s := openTest(t, t.TempDir())
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.Pieces().Create(ctx, Draft{Text: "a"}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestOfManySaversFromOneVersionExactlyOneWins(t *testing.T) {
	folder := t.TempDir()
	// Two stores on one file stand for two processes.
	stores := []*Store{openTest(t, folder), openTest(t, folder)}
	ctx := t.Context()
	p := must[Document](t)(stores[0].Pieces().Create(ctx, Draft{Text: "start"}))
	const rounds, savers = 5, 8
	for base := 1; base <= rounds; base++ {
		results := make(chan error, savers)
		for n := range savers {
			go func() {
				_, err := stores[n%2].Pieces().Save(ctx, p.ID, base, Draft{Text: fmt.Sprintf("%d by %d", base, n)})
				results <- err
			}()
		}
		won := 0
		for range savers {
			var conflict *ConflictError
			switch err := <-results; {
			case err == nil:
				won++
			case !errors.As(err, &conflict) || conflict.Current != base+1:
				t.Errorf("round %d: %v", base, err)
			}
		}
		if won != 1 {
			t.Errorf("round %d: %d saves succeeded", base, won)
		}
	}
	if versions := must[[]Version](t)(stores[1].Pieces().Versions(ctx, p.ID)); len(versions) != rounds+1 {
		t.Errorf("%d versions were kept, want %d", len(versions), rounds+1)
	}
}

func TestReadingGoesOnWhileWriting(t *testing.T) {
	ctx, s := t.Context(), openTest(t, t.TempDir())
	p := must[Document](t)(s.Pieces().Create(ctx, Draft{Text: "v1"}))
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			last := 0
			for last < 40 {
				got, err := s.Pieces().Get(ctx, p.ID)
				if err != nil || got.Number < last || got.Text != fmt.Sprintf("v%d", got.Number) {
					t.Errorf("read %+v after version %d: %v", got, last, err)
					return
				}
				last = got.Number
			}
		})
	}
	for n := 1; n < 40; n++ {
		must[Document](t)(s.Pieces().Save(ctx, p.ID, n, Draft{Text: fmt.Sprintf("v%d", n+1)}))
	}
	group.Wait()
}

func TestSeveralMayMakeTheFileAtOnce(t *testing.T) {
	folder := t.TempDir()
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			s, err := Open(t.Context(), Options{Folder: folder})
			if err != nil {
				t.Error(err)
				return
			}
			if _, err := s.Pieces().Create(t.Context(), Draft{Text: "a"}); err != nil {
				t.Error(err)
			}
			if err := s.Close(); err != nil {
				t.Error(err)
			}
		})
	}
	group.Wait()
	if list := must[[]Document](t)(openTest(t, folder).Pieces().List(t.Context())); len(list) != 4 {
		t.Errorf("%d pieces were kept, want 4", len(list))
	}
}

func TestFileOfANewerProgramIsRefused(t *testing.T) {
	folder := t.TempDir()
	s := openTest(t, folder)
	if _, err := s.writing.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (9999, 1)`); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), testOptions(folder)); !errors.Is(err, ErrNewer) {
		t.Errorf("got %v", err)
	}
}

func TestFileThatIsNoDatabaseIsLeftAlone(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, fileName)
	text := strings.Repeat("not a database\n", 400)
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if s, err := Open(t.Context(), testOptions(folder)); err == nil {
		t.Error("opened", s.Close())
	} else if !strings.Contains(err.Error(), folder) {
		t.Errorf("the error does not name the folder: %v", err)
	}
	if got := must[[]byte](t)(os.ReadFile(file)); string(got) != text {
		t.Error("the file was changed")
	}
}

func TestFolderWithOddCharactersInItsName(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "Möbel & Co? 100% #1")
	openTest(t, folder)
	if _, err := os.Stat(filepath.Join(folder, fileName)); err != nil {
		t.Error(err)
	}
}

func TestDefaultFolderCanBeChosen(t *testing.T) {
	cases := []struct{ data, xdg, home, want string }{
		{"/tools/data", "/xdg", "/home/ada", "/tools/data"},
		{"", "/xdg", "/home/ada", "/xdg/longgrain"},
		{"", "relative is ignored", "/home/ada", "/home/ada/.local/share/longgrain"},
		{"", "", "/home/ada", "/home/ada/.local/share/longgrain"},
	}
	for _, c := range cases {
		t.Setenv("LONGGRAIN_DATA", c.data)
		t.Setenv("XDG_DATA_HOME", c.xdg)
		t.Setenv("XDG_CONFIG_HOME", "")
		t.Setenv("HOME", c.home)
		if got := must[string](t)(DefaultFolder()); got != c.want {
			t.Errorf("%+v: got %s", c, got)
		}
	}
}

func TestATableOfTestsIsRecordedWholeAndInOrder(t *testing.T) {
	ctx, s := t.Context(), openTest(t, t.TempDir())
	records := make([]TestRecord, 300)
	for i := range records {
		records[i] = TestRecord{Joint: "dowel", Species: "pine", Count: 2, Note: fmt.Sprint(i), Load: Typed{"950 N", 950}, Predicted: &Typed{"900 N", 900}}
	}
	added := must[[]JointTest](t)(s.AddTests(ctx, records))
	if diff := cmp.Diff(added, must[[]JointTest](t)(s.Tests(ctx))); diff != "" {
		t.Errorf("read back differently (-added +read):\n%s", diff)
	}
	for i, test := range added {
		if test.Version != 1 || test.Note != fmt.Sprint(i) {
			t.Fatalf("test %d is %+v", i, test)
		}
	}
	broken, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := s.AddTests(broken, records); err == nil {
		t.Error("a table was recorded for nobody")
	}
	if n := len(must[[]JointTest](t)(s.Tests(ctx))); n != len(records) {
		t.Errorf("%d tests after a table that was given up", n)
	}
}
