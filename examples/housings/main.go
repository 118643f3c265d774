package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"foldfit/export/stl"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: housings FOLDER")
		os.Exit(2)
	}
	files, err := housings()
	for _, f := range files {
		if err == nil {
			err = os.WriteFile(filepath.Join(os.Args[1], f.path), f.bytes, 0o644)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "housings:", err)
		os.Exit(1)
	}
}

// file is one mesh file of an example.
type file struct {
	path  string
	bytes []byte
}

// housings makes all files.
func housings() ([]file, error) {
	var out []file
	for _, h := range []struct {
		path string
		make func() (*solid, error)
	}{
		{"pocket-logger/tray.stl", tray},
		{"lamp/shade.stl", shade},
		{"lamp/stand.stl", stand},
	} {
		s, err := h.make()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", h.path, err)
		}
		if err := s.Check(); err != nil {
			return nil, fmt.Errorf("%s: %w", h.path, err)
		}
		var b bytes.Buffer
		if err := stl.Write(&b, []mesh.Mesh{s.Mesh}); err != nil {
			return nil, err
		}
		out = append(out, file{h.path, b.Bytes()})
	}
	return out, nil
}

// loop returns the closed loop through corners x, y, radius.
func loop(corners ...[3]float64) flat.Loop {
	var vs []flat.Vertex
	for _, c := range corners {
		vs = append(vs, flat.Vertex{P: flat.Pt{X: c[0], Y: c[1]}, Round: c[2]})
	}
	l, errs := flat.Build(vs)
	if errs != nil {
		panic(errs[0].What)
	}
	return l
}

// tray is an open box with rounded corners, four bosses and an opening for the connector in its left wall.
func tray() (*solid, error) {
	const (
		x0, x1, y0, y1 = -2.0, 37.5, -1.5, 27.5 // inside
		wall           = 1.5
		o0, o1         = 8.0, 18.0 // the opening, along y
	)
	// the points on the left wall at the opening stand in every slab, so that all share them
	outer := loop([3]float64{x0 - wall, y0 - wall, 3}, [3]float64{x1 + wall, y0 - wall, 3}, [3]float64{x1 + wall, y1 + wall, 3},
		[3]float64{x0 - wall, y1 + wall, 3}, [3]float64{x0 - wall, o1, 0}, [3]float64{x0 - wall, o0, 0})
	inner := loop([3]float64{x0, y0, 1.5}, [3]float64{x1, y0, 1.5}, [3]float64{x1, y1, 1.5}, [3]float64{x0, y1, 1.5}, [3]float64{x0, o1, 0}, [3]float64{x0, o0, 0})
	ring := flat.Region{outer, inner.Rev()}
	open := flat.Region{loop([3]float64{x0 - wall, o0, 0}, [3]float64{x0, o0, 0}, [3]float64{x0, y0, 1.5}, [3]float64{x1, y0, 1.5}, [3]float64{x1, y1, 1.5},
		[3]float64{x0, y1, 1.5}, [3]float64{x0, o1, 0}, [3]float64{x0 - wall, o1, 0}, [3]float64{x0 - wall, y1 + wall, 3}, [3]float64{x1 + wall, y1 + wall, 3},
		[3]float64{x1 + wall, y0 - wall, 3}, [3]float64{x0 - wall, y0 - wall, 3})}
	withBosses := ring
	for _, c := range []flat.Pt{{X: 4, Y: 4}, {X: 26, Y: 4}, {X: 26, Y: 22}, {X: 4, Y: 22}} {
		boss, _ := flat.Circle(c, 4)
		withBosses = append(withBosses, boss)
	}
	s := newSolid("tray")
	err := s.stack(0.02, layer{0, 1.2, flat.Region{outer}}, layer{1.2, 3, withBosses}, layer{3, 3.2, ring}, layer{3.2, 7.4, open}, layer{7.4, 12, ring})
	return s, err
}

// shade is a round dome, open below.
func shade() (*solid, error) {
	const steps, out, in = 24, 41.5, 40.0
	profile := [][2]float64{{in, -38}, {out, -38}}
	for i := range steps {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / steps)
		profile = append(profile, [2]float64{out * cos, -14 + out*sin})
	}
	profile = append(profile, [2]float64{0, -14 + out}, [2]float64{0, -14 + in})
	for i := steps - 1; i >= 0; i-- {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / steps)
		profile = append(profile, [2]float64{in * cos, -14 + in*sin})
	}
	s := newSolid("shade")
	s.turn(96, profile...)
	return s, nil
}

// stand is a round foot with a rim on which the shade sits and a post that carries the driver.
func stand() (*solid, error) {
	s := newSolid("stand")
	s.turn(96, [2]float64{0, -42}, [2]float64{43, -42}, [2]float64{43, -38}, [2]float64{38, -38}, [2]float64{38, -39.5}, [2]float64{5, -39.5}, [2]float64{5, -34}, [2]float64{0, -34})
	return s, nil
}
