package rule

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"foldfit/fold/flat"
)

// Messages speak mm and degrees and say so; 0.01 mm is as fine as a board is made.

// mm prints a length for messages: to 0.01 mm, small ones finer.
func mm(v float64) string {
	switch a := math.Abs(v); {
	case a != 0 && a < 0.01:
		return fmt.Sprintf("%.4f mm", v)
	case a < 0.1:
		return fmt.Sprintf("%.3f mm", v)
	}
	return fmt.Sprintf("%.2f mm", v)
}

// up prints a length rounded up to 0.01 mm, so that the printed number passes as a least one.
func up(v float64) string { return fmt.Sprintf("%.2f mm", math.Ceil(v*100-1e-6)/100) }

// down prints a length rounded down to 0.01 mm, so that the printed number passes as a largest one.
func down(v float64) string { return fmt.Sprintf("%.2f mm", math.Floor(v*100+1e-6)/100) }

// short prints a number with at most so many decimals and no needless zeros.
func short(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// figure prints a number with three digits that count.
func figure(v float64) string { return fmt.Sprintf("%.3g", v) }

// beside prints a ratio to 0.01, or as finely as it takes to tell it from its limit.
func beside(v, limit float64) string { return besideFrom(2, v, limit) }

// besideFrom prints a number with so many decimals, or as many as it takes to tell it from its limit.
func besideFrom(least int, v, limit float64) string {
	for decimals := least; decimals < 9; decimals++ {
		if s := strconv.FormatFloat(v, 'f', decimals, 64); s != strconv.FormatFloat(limit, 'f', decimals, 64) {
			return s
		}
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// spot prints a flat position in mm.
func spot(p flat.Pt) string { return fmt.Sprintf("(%.2f, %.2f)", p.X+0, p.Y+0) }

// at returns a flat point as a finding's place.
func at(p flat.Pt) *[2]float64 { return &[2]float64{p.X, p.Y} }
