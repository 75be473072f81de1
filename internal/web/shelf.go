package web

import (
	"cmp"
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"sync"

	"longgrain/internal/ground/problem"
)

// planKey names what a plan depends on: the texts of the piece and of the shop, and the tests.
type planKey [sha256.Size]byte

func keyOf(piece string, shop Workshop) planKey {
	pieceSum, shopSum := sha256.Sum256([]byte(piece)), sha256.Sum256([]byte(shop.Text))
	return sha256.Sum256(fmt.Appendf(append(pieceSum[:], shopSum[:]...), "%d", shop.Edition))
}

// memory remembers what the shelf shows of each plan, so that it does not plan every piece each time
// it is shown. It does not outlive the program, for a new version may judge differently. The zero
// value is ready.
type memory[T any] struct {
	lock  sync.Mutex
	known map[planKey]T
}

func (m *memory[T]) get(key planKey) (T, bool) {
	m.lock.Lock()
	defer m.lock.Unlock()
	value, ok := m.known[key]
	return value, ok
}

func (m *memory[T]) put(key planKey, value T) {
	m.lock.Lock()
	defer m.lock.Unlock()
	if m.known == nil {
		m.known = map[planKey]T{}
	}
	m.known[key] = value
}

// keepOnly forgets all plans but those that the shelf shows.
func (m *memory[T]) keepOnly(shown map[planKey]bool) {
	m.lock.Lock()
	defer m.lock.Unlock()
	for key := range m.known {
		if !shown[key] {
			delete(m.known, key)
		}
	}
}

func (s *Server) showShelf(ctx context.Context, _ *struct{}) (*body[Shelf], error) {
	docs, err := s.Keeper.Pieces().List(ctx)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(docs, func(a, b Document) int {
		return cmp.Or(b.Saved.Compare(a.Saved), cmp.Compare(a.ID, b.ID))
	})
	var shelf Shelf
	if shelf.Pieces, err = s.judgeAll(ctx, docs); err != nil {
		return nil, err
	}
	deleted, err := s.Keeper.Pieces().ListDeleted(ctx)
	if err != nil {
		return nil, err
	}
	for _, doc := range deleted {
		shelf.Deleted = append(shelf.Deleted, DeletedPiece{doc.ID, doc.Name, doc.Version, doc.Deleted})
	}
	return &body[Shelf]{shelf}, nil
}

// judgeAll returns the pieces with their verdicts, in the order given. Those not known yet are
// planned side by side.
func (s *Server) judgeAll(ctx context.Context, docs []Document) ([]ShelfPiece, error) {
	shop, err := s.workshop(ctx)
	if err != nil {
		return nil, err
	}
	pieces := make([]ShelfPiece, len(docs))
	shown := map[planKey]bool{}
	var group sync.WaitGroup
	for i, listed := range docs {
		doc, err := s.Keeper.Pieces().Open(ctx, listed.ID, listed.Version)
		if err != nil {
			group.Wait()
			return nil, err
		}
		shown[keyOf(doc.Text, shop)] = true
		pieces[i] = ShelfPiece{ID: doc.ID, Name: doc.Name, Version: doc.Version, Saved: doc.Saved,
			Picture: fmt.Sprintf("/api/pieces/%s/picture.svg?version=%d", doc.ID, doc.Version)}
		group.Go(func() { pieces[i].Verdict = s.judge(ctx, doc.Text, shop) })
	}
	group.Wait()
	s.verdicts.keepOnly(shown)
	s.pictures.keepOnly(shown)
	return pieces, nil
}

// judge returns the verdict on a piece. A failure of the planner is a verdict too, so that one piece
// does not take the shelf away; it is not remembered.
func (s *Server) judge(ctx context.Context, text string, shop Workshop) Verdict {
	key := keyOf(text, shop)
	if verdict, ok := s.verdicts.get(key); ok {
		return verdict
	}
	answer, err := work(ctx, s, func(ctx context.Context) (PlanAnswer, error) {
		return s.Planner.Plan(ctx, PlanRequest{Text: text, Shop: shop})
	})
	if err != nil {
		s.Log.Error("failed", "operation", "judge for the shelf", "error", err)
		return Verdict{CannotBePlanned, "the program failed on this piece; its log says why"}
	}
	verdict := shortVerdict(answer)
	s.verdicts.put(key, verdict)
	return verdict
}

// shortVerdict is the verdict of a plan, or what stopped it.
func shortVerdict(answer PlanAnswer) Verdict {
	if answer.Verdict != nil {
		return *answer.Verdict
	}
	if len(answer.Problems) == 0 {
		return Verdict{CannotBePlanned, "the planner gave no verdict"}
	}
	return Verdict{CannotBePlanned, firstProblem(answer.Problems)}
}

func firstProblem(problems []problem.Problem) string {
	first := problems[0]
	line := first.What
	if first.At.Path != "" {
		line = first.At.Path + ": " + line
	}
	if more := len(problems) - 1; more > 0 {
		line += fmt.Sprintf(" (and %d more)", more)
	}
	return line
}
