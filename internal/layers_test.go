package internal_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const modulePath = "longgrain"

// moduleOwners names the one package that may import each outside module, so that a module can be
// replaced by changing one package. Test files are free.
var moduleOwners = map[string][]string{
	"codeberg.org/go-pdf/fpdf":                 {"internal/paper/pdf"},
	"github.com/alecthomas/kong":               {"cmd/longgrain", "cmd/yardstick"},
	"github.com/danielgtaylor/huma/v2":         {"internal/web"},
	"github.com/invopop/jsonschema":            {"internal/ground/strict"},
	"github.com/piglig/go-qr":                  {"internal/book/drawing"},
	"github.com/pressly/goose/v3":              {"internal/store"},
	"github.com/xuri/excelize/v2":              {"internal/book/export"},
	"github.com/expr-lang/expr":                {"internal/design/piece"},
	"go.starlark.net":                          {"internal/design/pattern"},
	"go.yaml.in/yaml/v3":                       {"internal/ground/strict"},
	"gonum.org/v1/gonum":                       {"internal/solve/spaceframe", "internal/ground/stats"},
	"modernc.org/sqlite":                       {"internal/store"},
	"github.com/santhosh-tekuri/jsonschema/v6": {},
	"github.com/arran4/golang-ical":            {}, // a second reader for tests
}

// outerOnly lists what only the outermost packages may touch: the machine, the network, the clock.
var outerOnly = map[string]bool{"os": true, "net": true, "net/http": true, "math/rand": true, "os/exec": true}

// outer packages may use outerOnly imports and time.Now.
func outer(pkg string) bool {
	return strings.HasPrefix(pkg, "cmd/") || pkg == "internal/store" || pkg == "internal/phones" || pkg == "internal/web" || pkg == "web"
}

func readLayers(t *testing.T) map[string]int {
	t.Helper()
	text, err := os.ReadFile("layers.txt")
	if err != nil {
		t.Fatal(err)
	}
	layer := map[string]int{}
	for n, line := range strings.Split(string(text), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		for _, pkg := range strings.Fields(line) {
			layer["internal/"+pkg] = n
		}
	}
	return layer
}

type goFile struct {
	pkg, path string
	imports   []string
	usesNow   bool
}

func goFiles(t *testing.T) []goFile {
	t.Helper()
	var files []goFile
	root := ".."
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name := d.Name(); name == "node_modules" || name == "testdata" || name == ".git" {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), path, src, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(root, filepath.Dir(path))
		f := goFile{pkg: filepath.ToSlash(rel), path: path, usesNow: strings.Contains(string(src), "time.Now")}
		for _, imp := range parsed.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			f.imports = append(f.imports, name)
		}
		files = append(files, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestPackagesImportOnlyFromEarlierLayers(t *testing.T) {
	layer := readLayers(t)
	for _, f := range goFiles(t) {
		mine, listed := layer[f.pkg]
		if strings.HasPrefix(f.pkg, "internal/") && !listed {
			t.Errorf("%s: package %s is not in internal/layers.txt", f.path, f.pkg)
			continue
		}
		if !listed {
			continue
		}
		for _, imp := range f.imports {
			target, ours := strings.CutPrefix(imp, modulePath+"/")
			if !ours || !strings.HasPrefix(target, "internal/") {
				continue
			}
			if theirs, ok := layer[target]; !ok || theirs >= mine {
				t.Errorf("%s: %s may not import %s: it is not on an earlier line of internal/layers.txt", f.path, f.pkg, target)
			}
		}
	}
}

func TestEachOutsideModuleHasOneImporter(t *testing.T) {
	for _, f := range goFiles(t) {
		for _, imp := range f.imports {
			if !strings.Contains(strings.SplitN(imp, "/", 2)[0], ".") {
				continue
			}
			owner, known := ownersOf(imp)
			if !known {
				t.Errorf("%s: module of %s has no owner in moduleOwners", f.path, imp)
				continue
			}
			allowed := false
			for _, o := range owner {
				allowed = allowed || o == f.pkg
			}
			if !allowed {
				t.Errorf("%s: only %v may import %s", f.path, owner, imp)
			}
		}
	}
}

func ownersOf(imp string) ([]string, bool) {
	for module, owners := range moduleOwners {
		if imp == module || strings.HasPrefix(imp, module+"/") {
			return owners, true
		}
	}
	return nil, false
}

func TestOnlyOuterPackagesTouchTheMachine(t *testing.T) {
	for _, f := range goFiles(t) {
		if outer(f.pkg) {
			continue
		}
		for _, imp := range f.imports {
			if outerOnly[imp] {
				t.Errorf("%s: %s may not import %q", f.path, f.pkg, imp)
			}
		}
		if f.usesNow {
			t.Errorf("%s: %s may not read the clock", f.path, f.pkg)
		}
	}
}

// trial sets up pieces for tests and has no place in the program.
func TestOnlyTestsImportTrial(t *testing.T) {
	for _, f := range goFiles(t) {
		for _, imp := range f.imports {
			if imp == modulePath+"/internal/trial" {
				t.Errorf("%s: only test files may import %s", f.path, imp)
			}
		}
	}
}
