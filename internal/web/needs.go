package web

import (
	"context"
	"errors"
	"fmt"
	"time"

	"longgrain/internal/book/cards"
	"longgrain/internal/ground/problem"
)

// Planner works a piece out. The program hands in the one that is made of package plan and the
// packages for books. It is used by several goroutines at once.
//
// Wrong input comes back as problems; where only data can be returned it is a problem.List as the
// error. Other errors are failures of the program and are not shown to a person.
type Planner interface {
	// Plan returns everything that the workbench shows of a piece.
	Plan(ctx context.Context, req PlanRequest) (PlanAnswer, error)
	// Mends returns the single changes that bring what does not hold to the wanted reserve; none when a piece holds or has
	// problems. It takes some times as long as Plan.
	Mends(ctx context.Context, req PlanRequest) (MendAnswer, error)
	// Forces returns what a part carries under a load case; no curves when there is no such part or case, or the piece has problems.
	Forces(ctx context.Context, req ForcesRequest) (ForcesAnswer, error)
	// Workbook returns the printable book as PDF.
	Workbook(ctx context.Context, text string, shop Workshop, print Print) ([]byte, error)
	// Labels returns labels to stick on the parts as PDF; address is where the piece is to be seen in a browser, or empty.
	Labels(ctx context.Context, text string, shop Workshop, paper, address string) ([]byte, error)
	// Export returns the named file made from the plan, or ErrNoExport for a name it does not know.
	// "picture.svg" is the picture for the shelf.
	Export(ctx context.Context, text string, shop Workshop, name string) (data []byte, contentType string, err error)
	// Cards puts the order of work on bench cards, with what was noted of it.
	Cards(ctx context.Context, req WorkRequest) (cards.Deck, error)
	// Work returns the order of work with what was noted of it, and a calendar of what is left, nil when nothing is dated.
	Work(ctx context.Context, req WorkRequest) (WorkAnswer, []byte, error)
	// Patterns returns the families of furniture in the order in which to offer them.
	Patterns() []PatternInfo
	// Name returns the name that a piece or shop file gives itself, quickly; "" when it gives none or
	// cannot be read.
	Name(text string) string
	// CheckShop returns what is wrong with a shop file.
	CheckShop(ctx context.Context, text string) ([]problem.Problem, error)
	// Boards returns what the boards of a piece come to, and with a change when one is given.
	Boards(ctx context.Context, req PlanRequest, change *WhatIf) (BoardsAnswer, error)
	// AfterJob returns the shop file with the timber on hand as it is when the boards of a piece are cut.
	AfterJob(ctx context.Context, req PlanRequest) (shop string, err error)
	// WithDefects returns the shop file with the defects of one board on hand replaced.
	WithDefects(shop, board string, defects []RackDefect) (string, error)
}

// PlanRequest is what Plan works from.
type PlanRequest struct {
	Text    string // the piece file
	Shop    Workshop
	Sizes   map[string]string // sizes to put into the piece, by name, as typed
	Chapter string            // chapter to return in full; may be empty
	Bend    string            // load case to bend the piece by, by name; may be empty
	Moving  bool              // a hand is still moving sizes: a plan at a glance will do
}

// ForcesRequest asks what a part carries.
type ForcesRequest struct {
	Text  string // the piece file
	Shop  Workshop
	Sizes map[string]string // sizes to put into the piece, by name, as typed
	Part  string            // id of the part; empty for the one that is used hardest
	Case  string            // load case by name; empty for the one that uses the part hardest
}

// Print is what a workbook is to hold.
type Print struct {
	Paper    string   // "a4" or "letter"
	Chapters []string // ids of chapters and of parts of chapters; none for all
	Lesson   bool     // with questions left open for a class, and the answers at the end
}

// Workshop is the shop that a piece is planned for: its file and the joints that it broke.
type Workshop struct {
	Text    string       // the shop file
	Tests   []TestRecord // in the order of the log
	Edition int          // another one for every change of the tests
}

// ErrNoExport says that there is no export of the name asked for.
var ErrNoExport = errors.New("there is no such export")

// Keeper keeps what people save. The program hands in the one that is made of package store. It is
// used by several goroutines at once; what it returns as saved stays saved.
type Keeper interface {
	Pieces() Documents
	Shops() Documents

	AddTest(ctx context.Context, record TestRecord) (JointTest, error)
	// AddTests records all tests or none.
	AddTests(ctx context.Context, records []TestRecord) error
	// CorrectTest adds a version that replaces version base, or returns a *ConflictError.
	CorrectTest(ctx context.Context, id string, base int, record TestRecord) (JointTest, error)
	// Tests returns the newest version of every test.
	Tests(ctx context.Context) ([]JointTest, error)
	// TestVersions returns all versions of one test, the newest first.
	TestVersions(ctx context.Context, id string) ([]JointTest, error)

	// AddWork keeps events of a piece; those whose ID is known are left out, and so are ticks and starts of what was ticked off before,
	// which are returned.
	AddWork(ctx context.Context, piece string, events []WorkEvent) ([]WorkClash, error)
	// Work returns the events of a piece in the order in which they arrived.
	Work(ctx context.Context, piece string) ([]WorkEvent, error)

	// Setting returns what was kept under a key, "" when there is nothing; SetSetting replaces it.
	Setting(ctx context.Context, key string) (string, error)
	SetSetting(ctx context.Context, key, value string) error

	AddPicture(ctx context.Context, contentType string, data []byte) (id string, err error)
	Picture(ctx context.Context, id string) (contentType string, data []byte, err error)
}

// Documents keeps the versions of documents of one kind. Unknown documents and versions are
// ErrNotFound.
type Documents interface {
	Create(ctx context.Context, draft Draft) (Document, error)
	// Save adds a version made from version base, 0 to make the document. It returns a *ConflictError
	// when base is not the newest and ErrDeleted when the document was put aside.
	Save(ctx context.Context, id string, base int, draft Draft) (Document, error)
	// Get returns the newest version.
	Get(ctx context.Context, id string) (Document, error)
	Open(ctx context.Context, id string, version int) (Document, error)
	// Versions returns all versions without texts, the newest first.
	Versions(ctx context.Context, id string) ([]Document, error)
	// List returns the documents in use, without texts.
	List(ctx context.Context) ([]Document, error)
	// ListDeleted returns the documents put aside, without texts, the last one first.
	ListDeleted(ctx context.Context) ([]Document, error)
	Delete(ctx context.Context, id string) error
	Restore(ctx context.Context, id string) error
}

// Draft is what a person wants to save.
type Draft struct{ Name, Text, Note string }

// Document is a kept document in one of its versions.
type Document struct {
	ID      string
	Created time.Time
	Deleted time.Time // zero while it is in use
	Version int
	Saved   time.Time
	Draft
}

var (
	// ErrNotFound says that a Keeper has nothing of that name.
	ErrNotFound = errors.New("not found")
	// ErrDeleted says that a document was put aside and must be restored before it is saved.
	ErrDeleted = errors.New("was deleted; restore it first")
)

// ConflictError says that somebody else saved in between.
type ConflictError struct{ Current int }

func (e *ConflictError) Error() string {
	return fmt.Sprintf("somebody saved version %d in between", e.Current)
}
