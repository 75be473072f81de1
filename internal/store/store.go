// Package store keeps pieces, shops, the joint test log, pictures and settings in one SQLite file.
//
// Every save of a piece or shop is a new version; no version is ever overwritten, and deleting only
// puts a document aside. The test log is append-only: a correction is a new version of a test.
// What a method has returned as saved is on the disk (write-ahead log, synchronous FULL), so it
// survives the end of the process and of the power. Saving names the version it was made from and
// is refused with a ConflictError when somebody else saved in between.
//
// Several processes may have the same file open. Within a process all writing goes through one
// connection and reading through a pool. The package does not read the texts it keeps.
package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // the database driver "sqlite"
)

// fileName is the name of the database in the data folder.
const fileName = "longgrain.db"

const (
	// busyTimeout is how long a writer waits for the writer of another process, in milliseconds.
	// Judgement: a write takes a few milliseconds, so only a stuck process holds longer.
	busyTimeout = 10_000
	// readers is the size of the reading pool. Judgement: a few people at most read at one time.
	readers = 4
	// migrationTries bounds how often Open starts over when another process is bringing the same
	// file up to date at the same moment; the loser finds the work done on its next try.
	migrationTries = 5
)

var (
	// ErrNotFound says that there is no document, version, test or picture of that name.
	ErrNotFound = errors.New("not found")
	// ErrDeleted says that a document was put aside and must be restored before it is saved.
	ErrDeleted = errors.New("was deleted")
	// ErrNewer says that the file was written by a newer version of the program.
	ErrNewer = errors.New("the file was saved by a newer longgrain")
)

// ConflictError says that a save was made from a version that is no longer the newest.
type ConflictError struct {
	Base    int // the version that the change was made from
	Current int // the newest version
}

func (e *ConflictError) Error() string {
	return fmt.Sprintf("made from version %d, but the newest is %d", e.Base, e.Current)
}

// Options say where a store is and what it takes from its surroundings.
type Options struct {
	Folder string           // data folder, made when it is missing; "" means DefaultFolder
	Now    func() time.Time // the clock; nil means time.Now
	NewID  func() string    // names new documents and tests; nil means random names
}

// Store is an open data file. It is safe for use by several goroutines.
type Store struct {
	reading *sql.DB
	writing *sql.DB
	now     func() time.Time
	newID   func() string
}

// DefaultFolder returns the folder that data is kept in when none is named: LONGGRAIN_DATA if it is
// set, else XDG_DATA_HOME/longgrain or ~/.local/share/longgrain on Unix, and the user's
// configuration folder elsewhere.
func DefaultFolder() (string, error) {
	if folder := os.Getenv("LONGGRAIN_DATA"); folder != "" {
		return folder, nil
	}
	if folder := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(folder) {
		return filepath.Join(folder, "longgrain"), nil
	}
	config, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("find the data folder: %w; set LONGGRAIN_DATA", err)
	}
	if home, err := os.UserHomeDir(); err == nil && config == filepath.Join(home, ".config") {
		return filepath.Join(home, ".local", "share", "longgrain"), nil
	}
	return filepath.Join(config, "longgrain"), nil
}

// Open opens the data file in the folder, makes it when it is missing and brings an older one up to
// date. It returns ErrNewer for a file of a newer program. Close the store after use.
func Open(ctx context.Context, o Options) (*Store, error) {
	if o.Folder == "" {
		folder, err := DefaultFolder()
		if err != nil {
			return nil, err
		}
		o.Folder = folder
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.NewID == nil {
		o.NewID = randomID
	}
	s, err := open(ctx, o)
	if err != nil {
		return nil, fmt.Errorf("open the data folder %s: %w", o.Folder, err)
	}
	return s, nil
}

func open(ctx context.Context, o Options) (*Store, error) {
	if err := os.MkdirAll(o.Folder, 0o700); err != nil {
		return nil, err
	}
	file, err := filepath.Abs(filepath.Join(o.Folder, fileName))
	if err != nil {
		return nil, err
	}
	writing, err := sql.Open("sqlite", dataSource(file, "_txlock=immediate&_journal_mode=WAL&_synchronous=FULL"))
	if err != nil {
		return nil, err
	}
	writing.SetMaxOpenConns(1)
	if err := migrate(ctx, writing); err != nil {
		return nil, errors.Join(err, writing.Close())
	}
	reading, err := sql.Open("sqlite", dataSource(file, "_query_only=1"))
	if err != nil {
		return nil, errors.Join(err, writing.Close())
	}
	reading.SetMaxOpenConns(readers)
	return &Store{reading: reading, writing: writing, now: o.Now, newID: o.NewID}, nil
}

// dataSource returns the driver's address of a file with the settings that every connection has.
func dataSource(file, extra string) string {
	path := filepath.ToSlash(file)
	if !strings.HasPrefix(path, "/") { // a drive letter
		path = "/" + path
	}
	u := url.URL{Scheme: "file", Path: path,
		RawQuery: fmt.Sprintf("_busy_timeout=%d&_foreign_keys=1&_defensive=1&_dqs=0&%s", busyTimeout, extra)}
	return u.String()
}

//go:embed migrations/*.sql
var migrations embed.FS

func migrate(ctx context.Context, db *sql.DB) error {
	scripts, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	for try := 1; ; try++ {
		err := migrateOnce(ctx, db, scripts)
		if err == nil || errors.Is(err, ErrNewer) || try == migrationTries {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(100 * time.Millisecond):
		}
	}
}

func migrateOnce(ctx context.Context, db *sql.DB, scripts fs.FS) error {
	provider, err := goose.NewProvider(goose.DialectSQLite3, db, scripts, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return fmt.Errorf("read the migrations: %w", err)
	}
	have, known, err := provider.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("read the version of the file: %w", err)
	}
	if have > known {
		return fmt.Errorf("%w (file version %d, this program knows %d)", ErrNewer, have, known)
	}
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("bring the file up to date: %w", err)
	}
	return nil
}

// Close ends all use of the file.
func (s *Store) Close() error {
	return errors.Join(s.reading.Close(), s.writing.Close())
}

// write runs do in a transaction of its own. An error undoes everything and is returned with what
// was being done.
func (s *Store) write(ctx context.Context, what string, do func(tx *sql.Tx) error) error {
	tx, err := s.writing.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	if err := do(tx); err != nil {
		// The first error is the one that matters; an undone transaction has nothing to add.
		_ = tx.Rollback()
		return fmt.Errorf("%s: %w", what, err)
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	return nil
}

// known turns the driver's "no rows" into ErrNotFound.
func known(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	return err
}

func toMillis(t time.Time) int64 { return t.UnixMilli() }

func fromMillis(ms int64) time.Time { return time.UnixMilli(ms).UTC() }

// randomID returns a name of 12 letters and digits: 60 random bits, so that names made in two
// places do not meet.
func randomID() string { return strings.ToLower(rand.Text()[:12]) }
