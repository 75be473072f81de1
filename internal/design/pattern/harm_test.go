package pattern

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"
)

// anything is the wish of a script that may run or not, as long as it does no harm.
const anything = "anything"

// A broken or endless script is a problem with its line, within a second and some tens of megabytes, and never harm.
func TestAScriptCanDoNoHarm(t *testing.T) {
	onePart := "part(\"p\" + str(i), \"rail\", size = (mm(300), mm(60), mm(20)), at = (mm(0), mm(0), mm(0)), along = \"x\", across = \"y\")"
	for name, c := range map[string]struct{ script, want string }{
		"endless loop at the top":    {"x = [i for i in range(20000) for j in range(20000)]\n" + head, "too"},
		"endless calls":              {head + "def f(n):\n    return n\ndef build(s):\n    for i in range(20000):\n        for j in range(20000):\n            f(j)\n    return []\n", "too long"},
		"recursion through another":  {head + "def f():\n    return g()\ndef g():\n    return f()\ndef build(s):\n    return f()\n", "recursive"},
		"recursion through a lambda": {head + "f = lambda g: g(g)\ndef build(s):\n    return f(f)\n", "recursive"},
		"while":                      {head + "def build(s):\n    while True:\n        pass\n", "while"},
		"giant text by format":       {head + "def build(s):\n    x = \"a\" * 100000\n    for i in range(1000):\n        x = \"%s%s\" % (x, x)\n    return []\n", "memory"},
		"giant list by append":       {head + "def build(s):\n    x = [0] * 10000\n    y = []\n    for i in range(20000):\n        for j in range(20):\n            y.append(x + x)\n    return []\n", "memory"},
		"giant dict":                 {head + "def build(s):\n    d = {}\n    for i in range(20000):\n        for j in range(2000):\n            d[i * 2000 + j] = \"x\"\n    return []\n", "too"},
		"a million parts":            {head + "def build(s):\n    made = []\n    for k in range(100):\n        for i in range(10000):\n            made.append(" + onePart + ")\n    return made\n", "too"},
		"more parts than allowed":    {head + "def build(s):\n    return [" + onePart + " for i in range(600)]\n", "more than 500 parts"},
		"a list in itself":           {head + "def build(s):\n    x = []\n    x.append(x)\n    return x\n", "lists inside lists"},
		"lists many times over":      {head + "def build(s):\n    x = [" + strings.Replace(onePart, "str(i)", "\"\"", 1) + "]\n    for i in range(15):\n        x = [x, x]\n    return x\n", "more than 500"},
		"nested brackets":            {head + "def build(s):\n    return " + strings.Repeat("(", 30_000) + "1" + strings.Repeat(")", 30_000) + "\n", "nested"},
		"nested lists":               {head + "x = " + strings.Repeat("[", 30_000) + strings.Repeat("]", 30_000) + "\n", "nested"},
		"a long chain":               {head + "x = 1" + strings.Repeat("+1", 30_000) + "\n", anything},
		"many signs":                 {head + "x = " + strings.Repeat("-", 60_000) + "1\n", anything},
		"many nots":                  {head + "x = " + strings.Repeat("not ", 15_000) + "True\n", anything},
		"nested blocks":              {head + "def build(s):\n" + nestedIfs(200), "nested"},
		"calls of calls":             {head + "x = f" + strings.Repeat("()", 30_000) + "\n", anything},
		"a huge file":                {"# " + strings.Repeat("x", 2<<20) + "\n" + head, "too long"},
		"files":                      {head + "def build(s):\n    return open(\"/etc/passwd\")\n", "undefined: open"},
		"the clock":                  {head + "def build(s):\n    return time.now()\n", "undefined: time"},
		"the network":                {head + "load(\"http://example.org/x.star\", \"x\")\n", "load"},
		"too many sizes":             {"title = \"T\"\nsizes = [count(\"n%d\" % i, 1, 1, 2, \"h\") for i in range(5000)]\ndef build(s):\n    return []\n", "more than"},
	} {
		start := time.Now()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, _, problems := expand(t, c.script, "")
		runtime.ReadMemStats(&after)
		if c.want != anything && (len(problems) == 0 || !strings.Contains(problems[0].What, c.want)) {
			t.Errorf("%s: got %s", name, fmt.Sprintf("%.300v", problems))
		}
		if took := time.Since(start); took > 5*time.Second {
			t.Errorf("%s: took %v", name, took)
		}
		if got := after.TotalAlloc - before.TotalAlloc; got > 400<<20 {
			t.Errorf("%s: %d MB", name, got>>20)
		}
	}
}

func nestedIfs(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i+1) + "if True:\n")
	}
	return b.String() + strings.Repeat(" ", n+1) + "pass\n"
}
