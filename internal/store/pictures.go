package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
)

// Picture is a photograph or drawing as it was handed in.
type Picture struct {
	Type string // media type, such as "image/jpeg"
	Data []byte
}

// AddPicture keeps a picture and returns its name, which depends on the data alone: the same picture
// is kept once.
func (s *Store) AddPicture(ctx context.Context, p Picture) (string, error) {
	sum := sha256.Sum256(p.Data)
	id := hex.EncodeToString(sum[:])
	err := s.write(ctx, "keep picture", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx,
			`INSERT INTO pictures (id, type, data, added) VALUES (?, ?, ?, ?) ON CONFLICT (id) DO NOTHING`,
			id, p.Type, p.Data, toMillis(s.now()))
		return err
	})
	if err != nil {
		return "", err
	}
	return id, nil
}

// Picture returns a kept picture, or ErrNotFound.
func (s *Store) Picture(ctx context.Context, id string) (Picture, error) {
	var p Picture
	err := s.reading.QueryRowContext(ctx, `SELECT type, data FROM pictures WHERE id = ?`, id).Scan(&p.Type, &p.Data)
	if err != nil {
		return Picture{}, fmt.Errorf("open picture %s: %w", id, known(err))
	}
	return p, nil
}
