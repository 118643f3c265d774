package draw

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"testing"

	"foldfit/fold/flat"
)

// trial is a sheet with a bar, an area with a hole, an arc and writing.
func trial() *Sheet {
	box := flat.Box{Max: flat.Pt{X: 140, Y: 90}}
	hole := Circle(flat.Pt{X: 40, Y: 50}, 8)
	return &Sheet{Box: box, Title: "Trial 100 %", Groups: []Group{{ID: "all", Items: []Item{
		Segment(flat.Pt{X: 20, Y: 10}, flat.Pt{X: 120, Y: 10}, Thin),
		Closed(Outline, Film, Rectangle(flat.Box{Min: flat.Pt{X: 20, Y: 30}, Max: flat.Pt{X: 60, Y: 70}}), hole.Rev()),
		Segment(flat.Pt{X: 80, Y: 30}, flat.Pt{X: 80, Y: 70}, Plate.Dashed(Mountain, 40)),
		InBox(flat.Box{Min: flat.Pt{X: 90, Y: 60}, Max: flat.Pt{X: 130, Y: 70}}, SizeNormal, []string{"neck: 180 deg", "toward TOP"}, ""),
	}}}}
}

func TestPDFIsTheSameEveryTime(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := WritePDF(w, []*Sheet{trial(), trial()}, "foldfit 1"); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two documents of one sheet differ")
	}
}

// Every table entry points at the object that it names, and the last catalog switches print scaling off.
func TestPDFTables(t *testing.T) {
	var out bytes.Buffer
	if err := WritePDF(&out, []*Sheet{trial()}, "foldfit 1"); err != nil {
		t.Fatal(err)
	}
	doc := out.Bytes()
	starts := regexp.MustCompile(`startxref\s+(\d+)`).FindAllSubmatch(doc, -1)
	if len(starts) != 2 {
		t.Fatalf("%d tables, want the document's and the amendment's", len(starts))
	}
	for _, s := range starts {
		at, _ := strconv.Atoi(string(s[1]))
		if !bytes.HasPrefix(doc[at:], []byte("xref")) {
			t.Errorf("no table at %d", at)
		}
	}
	last, _ := strconv.Atoi(string(starts[1][1]))
	for _, e := range regexp.MustCompile(`(\d+) 1\n(\d{10}) 00000 n`).FindAllSubmatch(doc[last:], -1) {
		at, _ := strconv.Atoi(string(e[2]))
		if want := fmt.Sprintf("%s 0 obj", e[1]); !bytes.HasPrefix(doc[at:], []byte(want)) {
			t.Errorf("the table puts %q where there is %q", want, doc[at:at+12])
		}
	}
	catalog := doc[bytes.LastIndex(doc, []byte("/Type /Catalog")):]
	if !bytes.Contains(catalog[:120], []byte("/PrintScaling /None")) {
		t.Errorf("the catalog lets printers scale: %s", catalog[:120])
	}
	if page := regexp.MustCompile(`MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`).FindSubmatch(doc); page == nil || string(page[1]) != "396.85" || string(page[2]) != "255.12" {
		t.Errorf("the page is %q points, want 396.85 by 255.12 (140 by 90 mm)", page)
	}
}
