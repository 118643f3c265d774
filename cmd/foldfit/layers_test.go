package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// root is the project's folder, seen from this package.
const root = "../.."

// forbidden lists, for the packages whose path starts with from, the packages that they must not reach, directly or not.
// DEVELOPERS.md shows the same table.
var forbidden = []struct {
	from string
	to   []string
}{
	{"foldfit/fold", []string{"foldfit/mesh", "foldfit/export", "foldfit/cmd"}},
	{"foldfit/mesh", []string{"foldfit/export", "foldfit/cmd"}},
	{"foldfit/export", []string{"foldfit/cmd"}},
	{"foldfit/export/pattern", []string{"foldfit/mesh"}},
	{"foldfit/export/sheet", []string{"foldfit/export/pattern", "foldfit/export/gltf", "foldfit/export/stl"}},
	{"foldfit/export/draw", []string{"foldfit/mesh", "foldfit/fold"}},
	{"foldfit/fold/flat", []string{"foldfit/fold/stackup", "foldfit/fold/finding", "foldfit/fold"}},
	{"foldfit/fold/finding", []string{"foldfit/fold/flat", "foldfit/fold/stackup", "foldfit/fold"}},
	{"foldfit/fold/stackup", []string{"foldfit/fold/flat", "foldfit/fold"}},
	{"foldfit/fold/elastica", []string{"foldfit/fold/flat", "foldfit/fold/finding", "foldfit/fold/stackup", "foldfit/fold"}},
	{"foldfit/fold/bending", []string{"foldfit/fold/designfile", "foldfit/fold/rule"}},
	{"foldfit/fold/tolerance", []string{"foldfit/fold/designfile", "foldfit/fold/rule"}},
	{"foldfit/mesh/proximity", []string{"foldfit/fold"}},
	{"foldfit/mesh", []string{"foldfit/fold/designfile", "foldfit/fold/rule"}},
	{"foldfit/export", []string{"foldfit/fold/designfile"}},
}

// TestLayers guards the direction of imports: cmd, export, mesh, fold.
func TestLayers(t *testing.T) {
	deps := imports(t)
	if len(deps["foldfit/fold"]) == 0 {
		t.Fatal("the import lists are empty")
	}
	for _, rule := range forbidden {
		for pkg, reached := range deps {
			if !under(pkg, rule.from) {
				continue
			}
			for _, bad := range rule.to {
				for _, r := range reached {
					if r != pkg && reaches(r, bad) {
						t.Errorf("%s reaches %s", pkg, r)
					}
				}
			}
		}
	}
}

// under reports whether pkg is the package or one below it.
func under(pkg, top string) bool { return pkg == top || strings.HasPrefix(pkg, top+"/") }

// reaches compares a reached package with a forbidden one. The bare word foldfit/fold means that package alone: its
// subpackages have rules of their own.
func reaches(r, bad string) bool {
	if bad == "foldfit/fold" {
		return r == bad
	}
	return under(r, bad)
}

// imports returns for each package of the project those of the project that it reaches, and those of the standard library
// that touch the disk which it imports itself.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	const form = `{{.ImportPath}}|{{join .Deps " "}}|{{join .Imports " "}}`
	cmd := exec.Command("go", "list", "-f", form, "./...")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	deps := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		f := strings.Split(line, "|")
		for _, d := range strings.Fields(f[1]) {
			if under(d, "foldfit") {
				deps[f[0]] = append(deps[f[0]], d)
			}
		}
		for _, d := range strings.Fields(f[2]) {
			if d == "os" || d == "io/fs" {
				deps[f[0]] = append(deps[f[0]], d)
			}
		}
	}
	return deps
}

// TestDisk keeps the packages below the command from touching the disk or printing.
func TestDisk(t *testing.T) {
	for pkg, reached := range imports(t) {
		for _, r := range reached {
			if (r == "os" || r == "io/fs") && !under(pkg, "foldfit/cmd") && !under(pkg, "foldfit/examples") {
				t.Errorf("%s imports %s; only cmd touches the disk", pkg, r)
			}
		}
	}
}

// TestTopLevel holds the project's top folder to what the design allows.
func TestTopLevel(t *testing.T) {
	allowed := "cmd fold mesh export testdata examples go.mod go.sum README.md DEVELOPERS.md LICENSE"
	names, err := filepath.Glob(filepath.Join(root, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		name := filepath.Base(n)
		if !strings.HasPrefix(name, ".") && !strings.Contains(" "+allowed+" ", " "+name+" ") {
			t.Errorf("%s does not belong at the top level", name)
		}
	}
}
