package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkCheckHousing checks and sweeps a board of one hinge above housings of many triangles, from the files to the text.
func BenchmarkCheckHousing(b *testing.B) {
	for _, n := range []int{96, 324} {
		b.Run(fmt.Sprintf("%dk", 12*n*n/1000), func(b *testing.B) {
			dir := b.TempDir()
			design := filepath.Join(dir, "board.yaml")
			text := plain + "enclosure: {block: {mesh: block.stl, units: mm}}\nsequence: [{bend: [neck]}]\n"
			for path, data := range map[string][]byte{design: []byte(text), filepath.Join(dir, "block.stl"): block(n)} {
				if err := os.WriteFile(path, data, 0o666); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportAllocs()
			for b.Loop() {
				if code := execute([]string{"check", design}, console{out: io.Discard, err: os.Stderr}); code != 0 {
					b.Fatalf("status %d", code)
				}
			}
		})
	}
}

// block returns the box from (-10, -10, -40) to (90, 30, -5) as binary STL, each face divided into n times n squares.
func block(n int) []byte {
	lo, size := [3]float32{-10, -10, -40}, [3]float32{100, 40, 35}
	var out bytes.Buffer
	out.Write(make([]byte, 80))
	_ = binary.Write(&out, binary.LittleEndian, uint32(12*n*n))
	facet := func(corners ...[3]float32) {
		record := make([]byte, 12, 50)
		for _, p := range corners {
			record, _ = binary.Append(record, binary.LittleEndian, p)
		}
		out.Write(append(record, 0, 0))
	}
	for face := range 6 {
		k, far := face/2, float32(face%2)
		at := func(i, j int) (p [3]float32) {
			p[k] = lo[k] + far*size[k]
			p[(k+1)%3] = lo[(k+1)%3] + size[(k+1)%3]*float32(i)/float32(n)
			p[(k+2)%3] = lo[(k+2)%3] + size[(k+2)%3]*float32(j)/float32(n)
			return p
		}
		for i := range n * n {
			a, b, c, d := at(i/n, i%n), at(i/n+1, i%n), at(i/n+1, i%n+1), at(i/n, i%n+1)
			if far == 0 {
				b, d = d, b
			}
			facet(a, b, c)
			facet(a, c, d)
		}
	}
	return out.Bytes()
}
