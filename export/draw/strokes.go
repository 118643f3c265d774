package draw

import (
	"strings"

	"foldfit/fold/flat"
)

// letters are drawn with single strokes, for pens and cutters: for each character polylines of points, two digits each: x from 0 to
// 4, y from 0 to 8 with the base line at 2, capitals up to 8 and small letters up to 6.
var letters = map[rune]string{
	'A': "022842 1535", 'B': "02083847463505 3544433202", 'C': "4738180703123243", 'D': "02082846442202", 'E': "48080242 0535",
	'F': "480802 0535", 'G': "47381807031232434525", 'H': "0208 4248 0545", 'I': "1232 2228 1838", 'J': "0312223338", 'K': "0208 4804 1542",
	'L': "080242", 'M': "0208254842", 'N': "02084248", 'O': "180703123243473818", 'P': "02083847463505", 'Q': "180703123243473818 2442",
	'R': "02083847463505 2542", 'S': "473818070615354443321203", 'T': "0848 2822", 'U': "080312324348", 'V': "082248", 'W': "0812253248",
	'X': "0842 0248", 'Y': "082548 2522", 'Z': "08480242",
	'a': "4642 4332120305163645", 'b': "0802 0516364543321203", 'c': "4536160503123243", 'd': "4842 4332120305163645", 'e': "044445361605031232",
	'f': "12172838 0626", 'g': "4641301001 4332120305163645", 'h': "0802 0516364542", 'i': "2622 2827", 'j': "26211000 2827", 'k': "0802 3604 0442",
	'l': "2822", 'm': "0602 05162522 25364542", 'n': "0602 0516364542", 'o': "160503123243453616", 'p': "0600 0516364543321203",
	'q': "4640 4332120305163645", 'r': "0602 051636", 's': "45361605143443321203", 't': "18132232 0636", 'u': "0603123243 4642", 'v': "062246",
	'w': "0612253246", 'x': "0642 0246", 'y': "0622 4610", 'z': "06460242",
	'0': "180703123243473818 1337", '1': "172822 1232", '2': "07183847460242", '3': "0718384746354443321203 2535", '4': "32380444",
	'5': "480805354443321203", '6': "38170503123243443505", '7': "084812", '8': "15040312324344351506071838474635", '9': "12334547381807061545",
	'.': "2223", ',': "2211", ':': "2223 2526", ';': "2211 2526", '-': "1535", '+': "0545 2327", '/': "0248", '(': "38262432", ')': "18262412",
	'=': "0444 0646", '°': "1828271718", '#': "1218 3238 0444 0646", '_': "0141", '%': "0248 0818170708 4333324243", '<': "470543", '>': "074503",
	'\'': "2826", '"': "1816 3836", '?': "07183847462524 2322", '!': "2824 2322", '±': "0646 2428 0343", '×': "1436 1634", '*': "2327 1436 1634",
	'[': "38181232", ']': "18383212", '…': "0203 2223 4243", ' ': "",
}

// unknown stands for a character without strokes: a box.
const unknown = "0208484202"

// Strokes returns the writing of t as single strokes, as wide and high as its outlines by f.
func (f *Face) Strokes(t *Text) []Run {
	const unit = 0.72 / 6 // capitals are 0.72 em and six steps high
	var out []Run
	for i, line := range t.Lines {
		chars := []rune(line)
		if len(chars) == 0 {
			continue
		}
		step := f.Width(line, t.Size) / float64(len(chars))
		at := flat.Pt{X: t.At.X, Y: t.At.Y - float64(i)*Leading*t.Size}
		for k, c := range chars {
			glyph, known := letters[c]
			if !known {
				glyph = unknown
			}
			for _, s := range strings.Fields(glyph) {
				out = append(out, polyline(s, flat.Pt{X: at.X + float64(k)*step, Y: at.Y}, step/5.5, unit*t.Size))
			}
		}
	}
	return out
}

// polyline returns a stroke with its origin at p and steps of that size.
func polyline(s string, p flat.Pt, dx, dy float64) Run {
	var r Run
	var last flat.Pt
	for i := 0; i+1 < len(s); i += 2 {
		q := flat.Pt{X: p.X + float64(s[i]-'0')*dx, Y: p.Y + (float64(s[i+1]-'0')-2)*dy}
		if i > 0 {
			r.Edges = append(r.Edges, flat.Line(last, q))
		}
		last = q
	}
	return r
}
