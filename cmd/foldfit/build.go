package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/report"
	"foldfit/export/sheet"
	"foldfit/fold"
)

// output is one file of a build, with a slash-separated path inside the build's folder.
type output struct {
	path, about string
	data        []byte
}

func newBuild(c console) *cobra.Command {
	var flags designFlags
	var dir string
	var fail failOn
	cmd := &cobra.Command{
		Use: "build DESIGN [-o DIR]", Short: "Everything for the bench, the mechanical engineer and the fabricator",
		Long: `build checks the design and writes one folder: index.html to start from, bench/ with the pattern to print and fold,
mechanical/ with the folded board and its other postures, fabricator/ with the findings and the bend schedule, and
manifest.json with the hashes of all of it. The folder is DIR, by default the design's name + "-build" beside the design.
Built again, only files of the build before are replaced.

Exit status: 0 no finding of severity error, 1 at least one (the files are still written), 2 the input or the call could not
be used.`,
		Example: `  foldfit build board.yaml
  foldfit build board.yaml -o out`,
		Args: oneDesign,
	}
	flags.add(cmd, false)
	flags.addLimits(cmd)
	chord := chordFlag(cmd)
	cmd.Flags().StringVarP(&dir, "output", "o", "", "`DIR` to write")
	fail.add(cmd, "also end with status 1 on findings this bad: error, warning, query or advice; or on a verdict of incomplete")
	_ = cmd.MarkFlagDirname("output")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		folder, err := buildFolder(args[0], dir)
		if err != nil {
			return err
		}
		flags.hashed = true
		b, err := load(c, args[0], flags)
		if err != nil {
			return err
		}
		r, err := check(b, chord.value)
		if err != nil {
			return err
		}
		if r.stopped {
			return stopped{}
		}
		files, err := compose(b, r)
		if err != nil {
			return &defect{err}
		}
		if err := install(folder, files); err != nil {
			return err
		}
		fmt.Fprintf(c.err, "%s: %s: %s\nStart at %s\n", r.Tree.Design.Name, r.Verdict(), r.Reason(), filepath.Join(folder, "index.html"))
		return fail.judge(r)
	}
	return cmd
}

// buildFolder returns the folder to write: the one asked for, else the design's stem + "-build" beside the design.
func buildFolder(design, dir string) (string, error) {
	switch {
	case dir == "-":
		return "", &usage{"a build is a folder and cannot go to stdout", "name a folder with -o DIR"}
	case dir != "":
		return filepath.Clean(dir), nil
	case design == "-":
		return "", &usage{"a design from stdin has no folder of its own", "name a folder with -o DIR"}
	}
	return strings.TrimSuffix(design, filepath.Ext(design)) + "-build", nil
}

// recipe is how one output is written.
type recipe struct {
	path, about string
	write       writer
}

// compose writes all files of a build to memory. They speak of the design by its bare file name, so that they do not
// depend on where the build was started.
func compose(b *board, r *results) ([]output, error) {
	for i := range r.Findings {
		r.Findings[i].Place.File = filepath.Base(r.Findings[i].Place.File)
	}
	recipes := []recipe{{"bench/pattern.svg", "true-scale pattern: print at 100 %, cut out, fold",
		func(w io.Writer) error { return b.drawPattern(w, b.tree, "top") }},
		{"bench/pattern.pdf", "the same for a printer, in tiles where it is larger than the paper; bending help, gauges, components to fold up",
			func(w io.Writer) error { return b.printPattern(w) }}}
	for _, s := range r.shapes {
		recipes = append(recipes, s.recipes()...)
	}
	recipes = append(recipes,
		recipe{"fabricator/findings.txt", "verdict, findings, bend schedule and gaps to read",
			func(w io.Writer) error { return report.Text(w, r.Run, report.TextOptions{}) }},
		recipe{"fabricator/check.json", "the same for programs",
			func(w io.Writer) error { return report.JSON(w, r.Run) }},
		recipe{"fabricator/bend-schedule.csv", "the bend schedule as a table: place, angle, radii, flex and figures of every hinge",
			func(w io.Writer) error { return report.ScheduleCSV(w, r.Run) }},
		recipe{"fabricator/fold-sheet.pdf", "the fold sheet, one drawing page: flat and folded board, bend schedule, stack-ups, sections, findings",
			func(w io.Writer) error { return b.drawSheet(w, r, sheet.Options{}, "pdf") }})
	files := make([]output, 0, len(recipes)+2)
	for _, x := range recipes {
		out, err := x.cook()
		if err != nil {
			return nil, err
		}
		files = append(files, out)
	}
	page, err := recipe{"index.html", "", func(w io.Writer) error {
		return report.Page(w, r.Run, links(files), "bench/pattern.svg")
	}}.cook()
	if err != nil {
		return nil, err
	}
	files = append(files, page)
	manifest, err := writeManifest(b, r, files)
	return append(files, manifest), err
}

// recipes returns the 3D files of one posture: the folded board as GLB and STL, every other one as GLB.
func (s *shape) recipes() []recipe {
	glb := func(w io.Writer) error { return s.writeGLB(w, false) }
	plays := "plays from flat to "
	if s.program() != nil {
		plays = "plays the sequence to "
	}
	if s.posture != fold.FoldedPosture {
		return []recipe{{"mechanical/posture-" + s.posture + ".glb", "the board in posture " + s.posture + "; " + plays + "there", glb}}
	}
	return []recipe{
		{"mechanical/folded.glb", "folded board in its enclosure, for any 3D viewer; " + plays + "folded", glb},
		{"mechanical/folded.stl", "folded board alone, triangles in mm, housing's frame",
			func(w io.Writer) error { return s.writeSTL(w, false) }},
	}
}

// cook writes one output to memory.
func (x recipe) cook() (output, error) {
	var data bytes.Buffer
	if err := x.write(&data); err != nil {
		return output{}, fmt.Errorf("%s: %w", x.path, err)
	}
	return output{x.path, x.about, data.Bytes()}, nil
}

// links lists the files for the page, the manifest with them.
func links(files []output) []report.File {
	var out []report.File
	for _, f := range files {
		out = append(out, report.File{Path: f.path, About: f.about})
	}
	return append(out, report.File{Path: manifestName, About: "hashes of inputs and outputs, version, verdict, findings"})
}
