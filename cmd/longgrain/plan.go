package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"longgrain/examples"
	"longgrain/internal/book/export"
	"longgrain/internal/book/workbook"
	"longgrain/internal/ground/problem"
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/pdf"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/patterns"
)

// input names the two files that a plan is made from.
type input struct {
	Piece string `arg:"" help:"Piece file."`
	Shop  string `help:"Shop file; without it the shop of the examples is used." placeholder:"FILE"`
	Tests string `help:"Joints that the shop broke, as CSV; without it the file that the shop file names under tests, if any." placeholder:"FILE.csv"`
}

// planCommand is "longgrain plan".
type planCommand struct {
	input
	Out      string   `required:"" type:"path" help:"Folder to write to; made when it is missing."`
	Paper    string   `enum:"a4,letter" default:"a4" help:"Paper of the workbook: a4 or letter."`
	Chapters []string `help:"What the workbook holds, by commas, such as timber,marking; without it everything. One of: ${chapters}." placeholder:"NAME,..."`
	Lesson   bool     `help:"Print the workbook for a class: questions left open, answers with their working at the end."`
	At       string   `help:"Address of the piece in a browser, for the codes on the labels." placeholder:"URL"`
}

// Run writes everything that is worked out.
func (c planCommand) Run(ctx context.Context) error {
	if err := knownChapters(c.Chapters); err != nil {
		return err
	}
	progress := newProgress(os.Stderr)
	defer progress.stop()
	progress.now("working out " + filepath.Base(c.Piece))
	made, err := c.make(ctx, true)
	if err != nil {
		return err
	}
	sheet := pdf.A4
	if c.Paper == "letter" {
		sheet = pdf.Letter
	}
	width, height := sheet.Frame()
	printed := workbook.Make
	if c.Lesson {
		printed = workbook.Lesson
	}
	book := printed(made, workbook.Options{Width: width, Height: height, Chapters: c.Chapters})
	progress.now("printing the workbook")
	bound, err := pdf.Write(book, pdf.Options{Paper: sheet})
	if err != nil {
		return fmt.Errorf("print the workbook: %w", err)
	}
	progress.now("printing the labels")
	labels, err := pdf.Write(workbook.Labels(made, workbook.Options{Width: width, Height: height}, c.At), pdf.Options{Paper: sheet})
	if err != nil {
		return fmt.Errorf("print the labels: %w", err)
	}
	files, err := export.All(made)
	if err != nil {
		return err
	}
	files = append(files, export.File{Name: "workbook.pdf", Data: bound}, export.File{Name: "labels.pdf", Data: labels})
	whole := book // the drawings are all written, whatever is printed
	if len(c.Chapters) > 0 || c.Lesson {
		whole = workbook.Make(made, workbook.Options{Width: width, Height: height})
	}
	for _, block := range whole.Blocks {
		if figure, ok := block.(document.Figure); ok && figure.ID != "" {
			files = append(files, export.File{Name: filepath.Join("drawings", figure.ID+".svg"), Data: svg.File(figure.Scene)})
		}
	}
	progress.now("writing files")
	for _, f := range files {
		if err := write(filepath.Join(c.Out, f.Name), f.Data); err != nil {
			return err
		}
	}
	progress.stop()
	for _, left := range export.NotCut(made) {
		fmt.Printf("Not in the solids: %s\n", left)
	}
	fmt.Printf("%s: %s. %s files in %s\n", made.Name, sentence(made), count(len(files)), c.Out)
	return nil
}

// knownChapters complains of names that cannot be printed alone, all at once.
func knownChapters(names []string) error {
	var unknown []string
	for _, n := range names {
		if !slices.Contains(workbook.Selectable(), n) {
			unknown = append(unknown, strconv.Quote(n))
		}
	}
	if len(unknown) == 0 {
		return nil
	}
	return fmt.Errorf("there is no chapter %s; there are %s", strings.Join(unknown, ", "), strings.Join(workbook.Selectable(), ", "))
}

func count(n int) string { return fmt.Sprint(n) }

func sentence(p plan.Plan) string {
	if p.Verdict.Word == "" {
		return p.Verdict.Answer
	}
	return p.Verdict.Word + ", " + p.Verdict.Answer
}

func write(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return fmt.Errorf("make the folder for %s: %w", name, err)
	}
	if err := os.WriteFile(name, data, 0o644); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// make reads both files and works the piece out; changes asks what one thing more in the shop would bring. Bad input is
// printed and returned as an exit status.
func (c input) make(ctx context.Context, changes bool) (plan.Plan, error) {
	text, err := readFile(c.Piece)
	if err != nil {
		return plan.Plan{}, err
	}
	workshop := plan.Text{Name: "the shop of the examples", Text: []byte(examples.Shop())}
	if c.Shop != "" {
		workshop.Name = c.Shop
		if workshop.Text, err = readFile(c.Shop); err != nil {
			return plan.Plan{}, err
		}
	}
	in, problems := plan.Read(plan.Text{Name: c.Piece, Text: text}, workshop, patterns.All())
	if len(problems) > 0 {
		return plan.Plan{}, complain(problems)
	}
	log := c.Tests
	if log == "" && in.Shop.Tests != "" {
		log = filepath.Join(filepath.Dir(c.Shop), filepath.FromSlash(in.Shop.Tests))
	}
	if log != "" {
		if in.Tests, err = readTests(log); err != nil {
			return plan.Plan{}, err
		}
	}
	in.Changes = changes
	made, problems := plan.Make(ctx, in)
	if len(problems) > 0 {
		return plan.Plan{}, complain(problems)
	}
	return plan.WithMends(ctx, in, made), nil
}

// maxFile is a little more than the readers accept, so that they can say that a file is too large.
const maxFile = 2 << 20

func readFile(name string) ([]byte, error) { return readUpTo(name, maxFile) }

// readUpTo reads a file, of a long one no more than its beginning.
func readUpTo(name string, most int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, unreadable(name, err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most))
	if err != nil {
		return nil, unreadable(name, err)
	}
	return text, nil
}

// unreadable names a file once, which the error of the system names again.
func unreadable(name string, err error) error {
	var of *fs.PathError
	if errors.As(err, &of) {
		err = of.Err
	}
	return fmt.Errorf("read %s: %w", name, err)
}

func complain(problems problem.List) error {
	problems.Sort()
	fmt.Fprintln(os.Stderr, problems.Error())
	return badInput
}

// progress says what is being done, once it takes longer than patience.
type progress struct {
	out  io.Writer
	what chan string
	done chan struct{}
}

// patience is how long a person waits without wondering.
const patience = 500 * time.Millisecond

func newProgress(out io.Writer) *progress {
	p := &progress{out: out, what: make(chan string, 8), done: make(chan struct{})}
	go p.run()
	return p
}

func (p *progress) run() {
	defer close(p.done)
	timer := time.NewTimer(patience)
	defer timer.Stop()
	late, current := false, ""
	for {
		select {
		case what, open := <-p.what:
			if !open {
				return
			}
			if current = what; late {
				fmt.Fprintln(p.out, "longgrain: "+current)
			}
		case <-timer.C:
			late = true
			fmt.Fprintln(p.out, "longgrain: "+current)
		}
	}
}

func (p *progress) now(what string) { p.what <- what }

func (p *progress) stop() {
	if p.what != nil {
		close(p.what)
		<-p.done
		p.what = nil
	}
}
