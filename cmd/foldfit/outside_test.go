//go:build outside

package main

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	_ "image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// These tests ask programs of other people, so they stand behind the build tag outside; a missing program fails them.

// TestOutsideMemory holds the whole of the lamp example to 200 MB, as the system counts them. It comes first: the count
// starts from this process's own size.
func TestOutsideMemory(t *testing.T) {
	dir := t.TempDir()
	program := filepath.Join(dir, "foldfit")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	cmd := exec.Command(program, "build", filepath.Join(root, "examples/lamp/lamp.yaml"), "-o", filepath.Join(dir, "lamp"))
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	usage := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	t.Logf("%d MB, %v", usage.Maxrss>>10, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime())
	if usage.Maxrss>>10 > 200 {
		t.Errorf("%d MB of memory, the most is 200", usage.Maxrss>>10)
	}
}

const dpi = 600

// TestOutsideBars rasterises an example's pattern and measures both scale bars: 100 mm within a pixel and a bit.
func TestOutsideBars(t *testing.T) {
	svg := filepath.Join(t.TempDir(), "pattern.svg")
	if r := call(t, "", "pattern", filepath.Join(root, "examples/lamp/lamp.yaml"), "-o", svg); r.code != exitGood {
		t.Fatal(r.err)
	}
	text, err := os.ReadFile(svg)
	if err != nil {
		t.Fatal(err)
	}
	page := rasterise(t, svg)
	for _, axis := range []string{"x", "y"} {
		from := barStart(t, text, "bar-"+axis)
		got := barLength(page, from, axis == "x", 100)
		if math.Abs(got-100) > 0.05 {
			t.Errorf("bar-%s measures %.3f mm on the raster, want 100", axis, got)
		}
	}
}

// rasterise draws an SVG file on white at 600 dpi.
func rasterise(t *testing.T, svg string) image.Image {
	t.Helper()
	cmd := exec.Command("rsvg-convert", "--dpi-x", fmt.Sprint(dpi), "--dpi-y", fmt.Sprint(dpi), "--background-color", "white", svg)
	var problems bytes.Buffer
	cmd.Stderr = &problems
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("rsvg-convert: %v %s", err, problems.String())
	}
	page, _, err := image.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	return page
}

// barStart returns the page coordinates in mm at which the group's first path begins: where the two bars meet.
func barStart(t *testing.T, svg []byte, id string) [2]float64 {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(svg))
	inside := false
	for {
		token, err := dec.Token()
		if err == io.EOF {
			t.Fatalf("no path in a group %s", id)
		}
		if err != nil {
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range start.Attr {
			inside = inside || a.Name.Local == "id" && a.Value == id
			if inside && a.Name.Local == "d" {
				var at [2]float64
				if _, err := fmt.Sscanf(strings.TrimPrefix(a.Value, "M"), "%f %f", &at[0], &at[1]); err != nil {
					t.Fatalf("%s: %v in %.40s", id, err, a.Value)
				}
				return at
			}
		}
	}
}

// barLength returns the distance in mm between the bar's outer ticks, as grey-weighted centres of the first and the last
// dark stroke on a cut 2.2 mm beside the bar, where only the long ticks at its ends and middle reach.
func barLength(page image.Image, from [2]float64, alongX bool, length float64) float64 {
	const beside, reach = 2.2, 1.5
	pixel := func(mm float64) int { return int(math.Round(mm / 25.4 * dpi)) }
	ink := func(i int) float64 { // i pixels from the bar's start along it
		x, y := pixel(from[0])+i, pixel(from[1]-beside)
		if !alongX {
			x, y = pixel(from[0]+beside), pixel(from[1])-i
		}
		r, _, _, _ := page.At(x, y).RGBA()
		return 1 - float64(r)/65535
	}
	centre := func(at int) float64 {
		weight, moment := 0.0, 0.0
		for i := at - pixel(reach); i <= at+pixel(reach); i++ {
			weight += ink(i)
			moment += ink(i) * float64(i)
		}
		return moment / weight
	}
	return (centre(pixel(length)) - centre(0)) / dpi * 25.4
}
