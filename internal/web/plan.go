package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"runtime/debug"
)

func (s *Server) addPlan() {
	add(s, operation(http.MethodPost, "/api/plan", "plan", "Work a piece out without saving it",
		http.StatusServiceUnavailable), s.plan)
	add(s, operation(http.MethodPost, "/api/mends", "mends", "Single changes that make a piece hold",
		http.StatusServiceUnavailable), s.mends)
	add(s, operation(http.MethodPost, "/api/forces", "forces", "What a part carries under a load case",
		http.StatusServiceUnavailable), s.forces)
}

func (s *Server) mends(ctx context.Context, in *body[PlanBody]) (*body[MendAnswer], error) {
	shop, err := s.workshop(ctx)
	if err != nil {
		return nil, err
	}
	answer, err := work(ctx, s, func(ctx context.Context) (MendAnswer, error) {
		return s.Planner.Mends(ctx, PlanRequest{Text: in.Body.Text, Shop: shop, Sizes: in.Body.Sizes})
	})
	if err != nil {
		return nil, err
	}
	return &body[MendAnswer]{answer}, nil
}

func (s *Server) plan(ctx context.Context, in *body[PlanBody]) (*body[PlanAnswer], error) {
	shop, err := s.workshop(ctx)
	if err != nil {
		return nil, err
	}
	answer, err := work(ctx, s, func(ctx context.Context) (PlanAnswer, error) {
		return s.Planner.Plan(ctx, PlanRequest{Text: in.Body.Text, Shop: shop, Sizes: in.Body.Sizes, Chapter: in.Body.Chapter, Bend: in.Body.Bend, Moving: in.Body.Moving})
	})
	if err != nil {
		return nil, err
	}
	return &body[PlanAnswer]{answer}, nil
}

// work lets the planner do something: within the time limit, no more at a time than the machine has
// processors, and with a panic made an error, because some of it runs beside the request's goroutine.
func work[T any](ctx context.Context, s *Server, do func(context.Context) (T, error)) (result T, err error) {
	ctx, cancel := context.WithTimeout(ctx, planLimit)
	defer cancel()
	select {
	case s.slots <- struct{}{}:
		defer func() { <-s.slots }()
	case <-ctx.Done():
		return result, fmt.Errorf("wait for a free processor: %w", ctx.Err())
	}
	defer func() {
		if cause := recover(); cause != nil {
			s.Log.Error("panic in the planner", "cause", cause, "stack", string(debug.Stack()))
			err = errors.New("the planner panicked")
		}
	}()
	return do(ctx)
}
