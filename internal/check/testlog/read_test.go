package testlog

import (
	_ "embed"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"longgrain/internal/ground/problem"
)

// sampleLog is made up; it holds what people write.
//
//go:embed testdata/log.csv
var sampleLog []byte

func mustRead(t testing.TB, table string) []Test {
	t.Helper()
	tests, problems := Read("log.csv", []byte(table))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return tests
}

// 212 lbf and 100 kgf by the exact factors of ground/unit; 3/8 in is 9.525 mm.
func TestEveryCellIsReadInItsOwnUnit(t *testing.T) {
	tests := mustRead(t, string(sampleLog))
	if len(tests) != 9 {
		t.Fatalf("%d tests", len(tests))
	}
	second, fourth := tests[1], tests[3]
	if second.Load.Text != "212 lbf" || math.Abs(second.Load.SI-943.0229825) > 1e-6 || second.Density != 441 || second.Moisture != 11 {
		t.Errorf("read as %+v", second)
	}
	if tests[0].Sizes["diameter"].SI != second.Sizes["diameter"].SI || *tests[2].Lever != (Typed{"12 in", 0.3048}) || tests[2].CureHours != 48 {
		t.Errorf("read as %+v", tests[2])
	}
	if tests[2].Note != `both dowels drew out, "dry"` || tests[2].Predicted.SI != 886 {
		t.Errorf("read as %+v", tests[2])
	}
	if !fourth.Held() || math.Abs(fourth.Load.SI-980.665) > 1e-9 || !tests[4].Withdrawn || tests[8].Failure != GlueLine || tests[8].Lever != nil {
		t.Errorf("read as %+v", tests[3:])
	}
}

func TestWhatIsWrittenReadsBackTheSame(t *testing.T) {
	tests := mustRead(t, string(sampleLog))
	written := Write(tests)
	if again := mustRead(t, string(written)); !reflect.DeepEqual(again, tests) {
		t.Errorf("written and read again:\n%+v\nwas\n%+v", again, tests)
	}
	if again := Write(mustRead(t, string(written))); string(again) != string(written) {
		t.Error("writing again gives other bytes")
	}
	if none := mustRead(t, string(Write(nil))); len(none) != 0 {
		t.Errorf("an empty log reads back as %+v", none)
	}
}

func TestSpreadsheetsMaySeparateWithSemicolonsOrTabs(t *testing.T) {
	for _, separator := range []string{";", "\t", ","} {
		table := strings.ReplaceAll("\ufeffjoint|species|load|note|\r\ndowel|pine|950 N|\"a, b; c\"|\r\n||||\r\n", "|", separator)
		if tests := mustRead(t, table); len(tests) != 1 || tests[0].Note != "a, b; c" {
			t.Errorf("separated by %q: %+v", separator, tests)
		}
	}
}

func TestEveryProblemOfATableIsReportedAtItsPlace(t *testing.T) {
	table := "joint,species,load,laod,lever,failure,density,withdrawn,load,moisture\n" +
		"dowel,pine,950,1,300,glu line,heavy,maybe,1 N,200\n" +
		"dowel,pine,950 N,,300 mm,,,,,\n" +
		",pine,-5 N,,-3 mm,,NaN,,,0\n" +
		"dowel,pi\"ne,950 N\n" +
		"dowel,pine,0 N,,,,,,,,more\n"
	tests, problems := Read("log.csv", []byte(table))
	if len(tests) != 1 {
		t.Errorf("%d sound rows", len(tests))
	}
	got := problems.Error()
	for _, want := range []string{
		`log.csv:1:20: laod: there is no column of this name; did you mean "load"?`,
		`log.csv:1:57: load: the column stands twice, first as column 3`,
		`log.csv:2:12: load: "950" has no unit; write for example 950 N`,
		`log.csv:2:18: lever: "300" has no unit; add mm or in`,
		`log.csv:2:22: failure: nothing that gives way is called "glu line"; did you mean "glue line"?`,
		`log.csv:2:31: density: "heavy" is not a number in kg/m³`,
		`log.csv:2:37: withdrawn: "maybe" is neither yes nor no`,
		`moisture: "200" is out of range; expected more than 0 and at most 100 %`,
		`log.csv:4:1: joint: the cell is empty`,
		`load: "-5 N" is not between`, `lever: "-3 mm" is not above nothing`, `density: "NaN" is out of range`, `moisture: "0" is out of range`,
		`log.csv:5:9: the line is not CSV`,
		`load: "0 N" is not between`, `the row has 11 cells and the headings 10`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if len(problems) != 16 {
		t.Errorf("%d problems:\n%s", len(problems), got)
	}
}

func TestTablesThatAreNoTableAreRefused(t *testing.T) {
	for table, want := range map[string]problem.Code{
		"": problem.Empty, "\n\n": problem.Empty, "\ufeff": problem.Empty, "joint,species\ndowel,pine\n": problem.MissingKey, "\xff\xfe": problem.NotCSV, "\"open": problem.NotCSV,
		strings.Repeat("x", MaxSize+1): problem.TooLarge,
	} {
		tests, problems := Read("log.csv", []byte(table))
		if len(tests) != 0 || len(problems) == 0 || problems[0].Code != want {
			t.Errorf("%.20q: %d tests, %v", table, len(tests), problems)
		}
	}
	tests, problems := Read("log.csv", []byte("joint,species,load\n"))
	if len(tests) != 0 || len(problems) != 0 {
		t.Errorf("a log without tests has %v", problems)
	}
}

func TestExamplesOfTheRulesAreReported(t *testing.T) {
	ran := 0
	for _, rule := range problem.Rules {
		if rule.Reader != "tests" {
			continue
		}
		ran++
		if _, problems := Read("", []byte(rule.Example)); len(problems) != 1 || problems[0].Code != rule.Code {
			t.Errorf("%s: %v", rule.Code, problems)
		}
	}
	if ran != 2 {
		t.Errorf("%d rules", ran)
	}
}

func TestKindsAreKnownByTheWordsOfAShop(t *testing.T) {
	for words, want := range map[string]string{
		"Dowel": "dowels", "dowels": "dowels", "tenon": "mortise and tenon", "Mortise-and-tenon": "mortise and tenon", "pocket screw": "pocket screws",
		" half lap ": "half lap", "biscuits": "biscuits", "": "",
	} {
		if got := KindOf(words); string(got) != want {
			t.Errorf("%q is %q", words, got)
		}
	}
}

// longLog is a log of n tests in which few cells repeat.
func longLog(n int) string {
	var b strings.Builder
	b.WriteString("joint,species,lever,load,failure,tested,sizes.diameter\n")
	for i := range n {
		fmt.Fprintf(&b, "%s,pine,%d.%d mm,%d.%d N,%s,day %d,3/8 in\n", []string{"dowel", "tenon", "biscuit"}[i%3], 290+i%20, i%7, 500+i*7919%900, i%10, []string{"wood", "glue line"}[i%2], i)
	}
	return b.String()
}

// A shop's machine is slower than this one and the suite shares it: five seconds are ten times what it takes.
func TestAHundredThousandTestsAreReadAndWorkedOutQuickly(t *testing.T) {
	if testing.Short() {
		t.Skip("long log")
	}
	const patience = 5 * time.Second
	began := time.Now()
	tests := mustRead(t, longLog(100_000))
	read := time.Since(began)
	report := Analyse(tests)
	if len(tests) != 100_000 || len(report.Groups) != 3 || len(report.Comparisons) != 3 {
		t.Errorf("%d tests, %d groups, %d comparisons", len(tests), len(report.Groups), len(report.Comparisons))
	}
	if all := time.Since(began); all > patience {
		t.Errorf("read in %v, worked out in %v", read, all-read)
	}
}

func BenchmarkRead(b *testing.B) {
	table := []byte(longLog(100_000))
	b.SetBytes(int64(len(table)))
	for b.Loop() {
		Read("log.csv", table)
	}
}

func BenchmarkAnalyse(b *testing.B) {
	tests := mustRead(b, longLog(100_000))
	for b.Loop() {
		Analyse(tests)
	}
}

// FuzzRead reads anything: sound rows have what a row must have, survive writing and reading, and can be worked out.
func FuzzRead(f *testing.F) {
	f.Add(sampleLog)
	for _, s := range []string{"", "joint,species,load\ndowel,pine,1 N\n", "joint;species;load\na;b;1 kN;x\n", "a,a,\"", "joint,species,load,sizes.,sizes.a,predicted,lever\nd,p,1 N,1,3/8 in,1e-3 N,1 m\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, table []byte) {
		tests, _ := Read("log.csv", table)
		for _, test := range tests {
			if !test.counts() || test.Joint == "" || test.Species == "" {
				t.Fatalf("read as %+v", test)
			}
		}
		again, problems := Read("log.csv", Write(tests))
		if len(problems) > 0 || len(again) != len(tests) {
			t.Fatalf("%d tests read again as %d: %v", len(tests), len(again), problems)
		}
		if len(tests) <= 100 {
			checkFinite(t, Analyse(tests))
		}
	})
}
