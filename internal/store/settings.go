package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// Setting returns a value that was kept under a key, or "" when there is none.
func (s *Store) Setting(ctx context.Context, key string) (string, error) {
	var value string
	err := s.reading.QueryRowContext(ctx, `SELECT value FROM settings WHERE key = ?`, key).Scan(&value)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return "", fmt.Errorf("read setting %s: %w", key, err)
	}
	return value, nil
}

// SetSetting keeps a value under a key. Unlike everything else in the store it replaces the old one.
func (s *Store) SetSetting(ctx context.Context, key, value string) error {
	return s.write(ctx, "keep setting "+key, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx,
			`INSERT INTO settings (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value`, key, value)
		return err
	})
}
