// Package source knows the works that figures and formulas are taken from, and how sure each
// figure is.
//
// Every reference value carries a Cite: the key of a work in sources.csv, the place in it, and a
// confidence word that says whether the figure was read, retold, recalled, judged or assumed. The
// workbook prints all three. The package holds no figures itself.
package source

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
)

// Confidence says how sure a figure is. The words are printed as they stand.
type Confidence string

// The confidence words, from surest to least sure.
const (
	Exact          Confidence = "exact"           // a definition or a closed form
	Read           Confidence = "read"            // the figure was seen in the named work or a transcription of it
	CrossChecked   Confidence = "cross-checked"   // recalled, and equal to an independent transcription that was read
	Computed       Confidence = "computed"        // worked out from other figures by the stated formula
	Secondary      Confidence = "secondary"       // a book or page retelling the work
	Memory         Confidence = "from memory"     // recalled, not confirmed
	CommonPractice Confidence = "common practice" // shop convention without a published proof
	Judgement      Confidence = "judgement"       // an engineering choice of this program
	Assumed        Confidence = "assumed"         // nobody has published the figure
)

var confidences = []Confidence{Exact, Read, CrossChecked, Computed, Secondary, Memory, CommonPractice, Judgement, Assumed}

// Weaker returns the less sure of two confidences.
func Weaker(a, b Confidence) Confidence {
	if slices.Index(confidences, a) > slices.Index(confidences, b) {
		return a
	}
	return b
}

// Work is one cited work.
type Work struct {
	Key   string `json:"key"`
	Title string `json:"title"`
	By    string `json:"by"`   // authors or publisher; may be empty
	Year  string `json:"year"` // may be empty
}

// String prints the work as in a list of references.
func (w Work) String() string {
	s := w.Title
	if w.By != "" {
		s = w.By + ": " + s
	}
	if w.Year != "" {
		s += " (" + w.Year + ")"
	}
	return s
}

// Cite is a reference to a place in a work. The zero value cites nothing.
type Cite struct {
	Key        string     `json:"key"`
	Place      string     `json:"place,omitempty"` // page, table, equation
	Confidence Confidence `json:"confidence"`
}

// String prints the cite short: "[wood-handbook] table 13-5, read".
func (c Cite) String() string {
	var parts []string
	switch c.Key {
	case "":
	case string(c.Confidence): // common-practice and assumed rows cite no work
	default:
		parts = append(parts, strings.TrimSpace("["+c.Key+"] "+c.Place))
	}
	if c.Confidence != "" {
		parts = append(parts, string(c.Confidence))
	}
	return strings.Join(parts, ", ")
}

//go:embed sources.csv
var sourcesCSV string

var works = mustRead(sourcesCSV)

func mustRead(text string) map[string]Work {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("source: sources.csv: %v", err))
	}
	out := map[string]Work{}
	for _, r := range rows[1:] {
		out[r[0]] = Work{Key: r[0], Title: r[1], By: r[2], Year: r[3]}
	}
	return out
}

// Lookup returns the work with the given key.
func Lookup(key string) (Work, bool) {
	w, ok := works[key]
	return w, ok
}

// At returns a cite of a known work. It panics when the key is not in sources.csv or the confidence
// is not one of the words above: reference data is checked when the program starts.
func At(key, place string, c Confidence) Cite {
	if _, ok := works[key]; !ok {
		panic(fmt.Sprintf("source: no work %q in sources.csv", key))
	}
	if !slices.Contains(confidences, c) {
		panic(fmt.Sprintf("source: unknown confidence %q of [%s] %s", c, key, place))
	}
	return Cite{Key: key, Place: place, Confidence: c}
}

// Practice is the cite of common practice: a convention of the trade that no work is named for.
func Practice() Cite { return Cite{Confidence: CommonPractice} }

// Assumption is the cite of a figure that nobody has published.
func Assumption() Cite { return Cite{Confidence: Assumed} }

// Choice is the cite of an engineering judgement of this program, explained in a file of docs/.
func Choice(place string) Cite { return Cite{Key: "longgrain", Place: place, Confidence: Judgement} }
