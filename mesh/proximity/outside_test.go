//go:build outside

package proximity

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/go-gl/mathgl/mgl64"
)

// question is a pair of surfaces and a pose of the first, for the outside program.
type question struct {
	a, b int
	at   mgl64.Mat4
}

// TestOutside compares distances and contacts of 1000 random pairs of meshes, and of the scenes, with those of another
// library; testdata/fcl-check says how to build the program that FOLDFIT_FCL names.
func TestOutside(t *testing.T) {
	program := os.Getenv("FOLDFIT_FCL")
	if program == "" {
		t.Fatal("FOLDFIT_FCL does not name the program built from testdata/fcl-check")
	}
	r := rand.New(rand.NewPCG(21, 22))
	soups := someSurfaces(r)
	for _, n := range []int{1, 30, 2000} {
		soups = append(soups, random(r, n, 1))
	}
	soups = append(soups, board50k(), house100k())
	var list []question
	for range 1000 {
		n := len(soups) - 2
		list = append(list, question{r.IntN(n), r.IntN(n), tumble(r, 9)})
	}
	for _, p := range append(poses[:len(poses):len(poses)], sunk...) {
		list = append(list, question{len(soups) - 2, len(soups) - 1, p.m})
	}
	folder := t.TempDir()
	var surfaces []*Surface
	for i := range soups {
		soups[i] = soups[i].rounded24()
		writeSTL(t, filepath.Join(folder, fmt.Sprintf("%d.stl", i)), soups[i])
		surfaces = append(surfaces, soups[i].surface())
	}
	compare(t, surfaces, list, askOutside(t, program, folder, list))
}

// compare holds the answers of another library against ours.
func compare(t *testing.T, surfaces []*Surface, list []question, theirs []answer) {
	var random, scenes clock
	touching, worst := 0, 0.0
	for i, c := range list {
		q := NewQuery(surfaces[c.a], surfaces[c.b])
		watch := &random
		if len(surfaces[c.b].ids) > 50_000 {
			watch = &scenes
		}
		n, hits := watch.run(q, c.at, &theirs[i])
		a := &theirs[i]
		if a.contacts > 0 {
			touching++
		}
		off := math.Abs(n.D - max(0, a.distance))
		worst = max(worst, off)
		if off > 1e-6 || a.contacts != hits {
			t.Errorf("question %d, surfaces %d and %d: distance %v, outside %v; %d contacts, outside %d", i, c.a, c.b, n.D, a.distance, hits, a.contacts)
		}
	}
	if touching < len(list)/20 || touching > len(list)*19/20 {
		t.Errorf("%d of %d touch: too few of one kind", touching, len(list))
	}
	t.Logf("%d pairs, %d touching; distances differ by up to %.2g mm", len(list), touching, worst)
	t.Logf("time outside over ours, random pairs: distance %.1f, contact %.1f", random.theirs[0]/random.ours[0], random.theirs[1]/random.ours[1])
	t.Logf("time outside over ours, scenes: distance %.1f, contact %.1f", scenes.theirs[0]/scenes.ours[0], scenes.theirs[1]/scenes.ours[1])
}

// clock sums the seconds for distances and for contacts.
type clock struct{ ours, theirs [2]float64 }

// run asks our query, and notes both times.
func (c *clock) run(q *Query, at mgl64.Mat4, a *answer) (n Nearest, hits int) {
	start := time.Now()
	q.Place(at, here)
	touches := q.Touching()
	c.ours[1] += time.Since(start).Seconds()
	start = time.Now()
	q.Forget()
	q.Place(at, here)
	n, _ = q.Distance(math.Inf(1))
	c.ours[0] += time.Since(start).Seconds()
	c.theirs[0], c.theirs[1] = c.theirs[0]+a.seconds[0], c.theirs[1]+a.seconds[1]
	if hits = len(q.Contacts(nil)); touches != (hits > 0) {
		hits = -1
	}
	return n, hits
}

// answer is what the outside program says to a question.
type answer struct {
	distance float64
	contacts int
	seconds  [2]float64 // for the distance and the contact
}

// askOutside runs the program.
func askOutside(t *testing.T, program, folder string, list []question) []answer {
	t.Helper()
	name := filepath.Join(folder, "questions.txt")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range list {
		m := rigidOf(c.at)
		fmt.Fprintf(f, "%s/%d.stl %s/%d.stl", folder, c.a, folder, c.b)
		for _, x := range append(m.r[:], m.t[:]...) {
			fmt.Fprintf(f, " %.17g", x)
		}
		fmt.Fprintln(f)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, name)
	cmd.Stderr = os.Stderr
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	out := make([]answer, len(list))
	in := bufio.NewReader(pipe)
	for i := range out {
		a := &out[i]
		if _, err := fmt.Fscan(in, &a.distance, &a.contacts, &a.seconds[0], &a.seconds[1]); err != nil {
			t.Fatalf("answer %d: %v", i, err)
		}
	}
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	return out
}

// writeSTL writes a binary STL file. Its normals are zero: readers compute them.
func writeSTL(t *testing.T, name string, s soup) {
	t.Helper()
	out := make([]byte, 84, 84+50*len(s.tris))
	binary.LittleEndian.PutUint32(out[80:], uint32(len(s.tris)))
	for _, tri := range s.tris {
		var b [50]byte
		for k, i := range tri {
			for j, x := range s.points[i] {
				binary.LittleEndian.PutUint32(b[12+12*k+4*j:], math.Float32bits(float32(x)))
			}
		}
		out = append(out, b[:]...)
	}
	if err := os.WriteFile(name, out, 0o600); err != nil {
		t.Fatal(err)
	}
}
