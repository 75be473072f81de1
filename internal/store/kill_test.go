package store

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"
)

// saverFolder names the folder in which the test program, started again, saves until it is killed.
const saverFolder = "LONGGRAIN_TEST_SAVER_FOLDER"

func TestMain(m *testing.M) {
	if folder := os.Getenv(saverFolder); folder != "" {
		if err := saveForever(context.Background(), folder); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	os.Exit(m.Run())
}

// saveForever saves version after version of one piece and prints each number after it was
// answered as saved.
func saveForever(ctx context.Context, folder string) error {
	s, err := Open(ctx, Options{Folder: folder, NewID: func() string { return "stool" }})
	if err != nil {
		return err
	}
	doc, err := s.Pieces().Create(ctx, Draft{Text: killText(1)})
	for ; err == nil; doc, err = s.Pieces().Save(ctx, doc.ID, doc.Number, Draft{Text: killText(doc.Number + 1)}) {
		fmt.Println(doc.Number)
	}
	return err
}

// killText is long enough to fill several pages of the file, so that a torn write would show.
func killText(version int) string { return fmt.Sprintf("%020000d", version) }

func TestWhatWasAnsweredAsSavedSurvivesAKill(t *testing.T) {
	rounds := 8
	if testing.Short() {
		rounds = 2
	}
	random := rand.New(rand.NewPCG(1, 2))
	for round := range rounds {
		folder := t.TempDir()
		last := saveAndKill(t, folder, time.Duration(20+random.IntN(200))*time.Millisecond)
		s := openTest(t, folder)
		for version := 1; version <= last; version++ {
			doc, err := s.Pieces().Open(t.Context(), "stool", version)
			if err != nil || doc.Text != killText(version) {
				t.Fatalf("round %d: version %d of %d was answered as saved but reads %.20q: %v", round, version, last, doc.Text, err)
			}
		}
		newest := must[Document](t)(s.Pieces().Get(t.Context(), "stool"))
		if newest.Number > last+1 {
			t.Errorf("round %d: %d versions are there, but only %d were answered and one was under way", round, newest.Number, last)
		}
		var verdict string
		if err := s.writing.QueryRow(`PRAGMA integrity_check`).Scan(&verdict); err != nil || verdict != "ok" {
			t.Errorf("round %d: integrity: %q %v", round, verdict, err)
		}
		t.Logf("round %d: %d answered saves are all there", round, last)
	}
}

// saveAndKill starts this test program as a saver, kills it some time after its first answer and
// returns the last version that it answered as saved.
func saveAndKill(t *testing.T, folder string, after time.Duration) (last int) {
	t.Helper()
	saver := exec.Command(os.Args[0])
	saver.Env = append(os.Environ(), saverFolder+"="+folder)
	saver.Stderr = os.Stderr
	answers := must[io.ReadCloser](t)(saver.StdoutPipe())
	if err := saver.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(answers)
	for lines.Scan() {
		var version int
		if _, err := fmt.Sscan(lines.Text(), &version); err != nil || version != last+1 {
			t.Fatalf("after version %d the saver said %q", last, lines.Text())
		}
		if last = version; last == 1 {
			// Kill is SIGKILL on Unix: the saver gets no chance to tidy up.
			time.AfterFunc(after, func() { _ = saver.Process.Kill() })
		}
	}
	if err := saver.Wait(); err == nil {
		t.Fatal("the saver ended by itself")
	}
	if last == 0 {
		t.Fatal("the saver saved nothing")
	}
	return last
}
