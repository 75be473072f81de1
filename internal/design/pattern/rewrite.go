package pattern

import (
	"strconv"

	"go.starlark.net/syntax"
)

// guardFile rewrites the operations of a parsed script that can use much memory into guarded calls,
// see guard.go. Positions stay those of the script.
func guardFile(f *syntax.File) { guardStatements(f.Stmts) }

func guardStatements(list []syntax.Stmt) {
	for _, s := range list {
		switch s := s.(type) {
		case *syntax.AssignStmt:
			guardAssignment(s)
		case *syntax.DefStmt:
			for i := range s.Params {
				if p, ok := s.Params[i].(*syntax.BinaryExpr); ok { // name=default
					p.Y = guard(p.Y)
				}
			}
			guardStatements(s.Body)
		case *syntax.ExprStmt:
			s.X = guard(s.X)
		case *syntax.ForStmt:
			s.X = guard(s.X)
			guardStatements(s.Body)
		case *syntax.WhileStmt:
			s.Cond = guard(s.Cond)
			guardStatements(s.Body)
		case *syntax.IfStmt:
			s.Cond = guard(s.Cond)
			guardStatements(s.True)
			guardStatements(s.False)
		case *syntax.ReturnStmt:
			if s.Result != nil {
				s.Result = guard(s.Result)
			}
		}
	}
}

var augmented = map[syntax.Token]syntax.Token{
	syntax.PLUS_EQ: syntax.PLUS, syntax.MINUS_EQ: syntax.MINUS, syntax.STAR_EQ: syntax.STAR, syntax.SLASH_EQ: syntax.SLASH,
	syntax.SLASHSLASH_EQ: syntax.SLASHSLASH, syntax.PERCENT_EQ: syntax.PERCENT, syntax.AMP_EQ: syntax.AMP,
	syntax.PIPE_EQ: syntax.PIPE, syntax.CIRCUMFLEX_EQ: syntax.CIRCUMFLEX, syntax.LTLT_EQ: syntax.LTLT, syntax.GTGT_EQ: syntax.GTGT,
}

// guardAssignment turns x += y into x = x + y, guarded.
func guardAssignment(s *syntax.AssignStmt) {
	s.RHS = guard(s.RHS)
	if op, ok := augmented[s.Op]; ok {
		if name, plain := s.LHS.(*syntax.Ident); plain {
			again := &syntax.Ident{NamePos: name.NamePos, Name: name.Name}
			s.Op, s.RHS = syntax.EQ, guard(&syntax.BinaryExpr{X: again, OpPos: s.OpPos, Op: op, Y: s.RHS})
		}
	}
	guardTarget(s.LHS)
}

// guardTarget guards what stands inside the left side of an assignment, which itself stays assignable.
func guardTarget(e syntax.Expr) {
	switch e := e.(type) {
	case *syntax.IndexExpr:
		e.X, e.Y = guard(e.X), guard(e.Y)
	case *syntax.DotExpr:
		e.X = guard(e.X)
	}
}

func guard(e syntax.Expr) syntax.Expr {
	switch e := e.(type) {
	case *syntax.BinaryExpr:
		if e.Op == syntax.EQ { // a named argument: name=value
			e.Y = guard(e.Y)
			return e
		}
		e.X, e.Y = guard(e.X), guard(e.Y)
		switch e.Op {
		case syntax.PLUS, syntax.STAR, syntax.PERCENT, syntax.LTLT, syntax.PIPE:
			return call(guardBinary, e.OpPos, number(int(e.Op), e.OpPos), e.X, e.Y)
		}
	case *syntax.CallExpr:
		e.Fn = guard(e.Fn)
		guardAll(e.Args)
	case *syntax.Comprehension:
		e.Body = guard(e.Body)
		for _, c := range e.Clauses {
			switch c := c.(type) {
			case *syntax.ForClause:
				c.X = guard(c.X)
			case *syntax.IfClause:
				c.Cond = guard(c.Cond)
			}
		}
	case *syntax.CondExpr:
		e.Cond, e.True, e.False = guard(e.Cond), guard(e.True), guard(e.False)
	case *syntax.DictEntry:
		e.Key, e.Value = guard(e.Key), guard(e.Value)
	case *syntax.DictExpr:
		guardAll(e.List)
	case *syntax.DotExpr:
		name := &syntax.Literal{Token: syntax.STRING, TokenPos: e.NamePos, Raw: strconv.Quote(e.Name.Name), Value: e.Name.Name}
		return call(guardDot, e.Dot, guard(e.X), name)
	case *syntax.IndexExpr:
		e.X, e.Y = guard(e.X), guard(e.Y)
	case *syntax.LambdaExpr:
		e.Body = guard(e.Body)
	case *syntax.ListExpr:
		guardAll(e.List)
	case *syntax.ParenExpr:
		e.X = guard(e.X)
	case *syntax.SliceExpr:
		return call(guardSlice, e.Lbrack, guard(e.X), orNone(e.Lo, e.Lbrack), orNone(e.Hi, e.Lbrack), orNone(e.Step, e.Lbrack))
	case *syntax.TupleExpr:
		guardAll(e.List)
	case *syntax.UnaryExpr:
		if e.X != nil {
			e.X = guard(e.X)
		}
	}
	return e
}

func guardAll(list []syntax.Expr) {
	for i := range list {
		list[i] = guard(list[i])
	}
}

func orNone(e syntax.Expr, at syntax.Position) syntax.Expr {
	if e == nil {
		return &syntax.Ident{NamePos: at, Name: "None"}
	}
	return guard(e)
}

func number(n int, at syntax.Position) syntax.Expr {
	return &syntax.Literal{Token: syntax.INT, TokenPos: at, Raw: strconv.Itoa(n), Value: int64(n)}
}

func call(name string, at syntax.Position, args ...syntax.Expr) syntax.Expr {
	return &syntax.CallExpr{Fn: &syntax.Ident{NamePos: at, Name: name}, Lparen: at, Args: args, Rparen: at}
}
