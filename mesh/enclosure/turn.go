package enclosure

import "slices"

// link leads across an edge that exactly two triangles share.
type link struct {
	to   int32 // the other triangle, -1 for none
	same bool  // both run the edge the same way: one of them faces the wrong way
}

// links returns for each side of each triangle the link across it.
func links(points int, tris [][3]int32) [][3]link {
	side := func(n int32) (lo, code int32) { return edgeCode(tris[n/3][n%3], tris[n/3][(n+1)%3]) }
	start, order := groups(points, 3*len(tris), func(n int) int32 { lo, _ := side(int32(n)); return lo })
	code := func(n int32) int32 { _, c := side(n); return c }
	out := make([][3]link, len(tris))
	for i := range out {
		out[i] = [3]link{{to: -1}, {to: -1}, {to: -1}}
	}
	for k := range points {
		bin := order[start[k]:start[k+1]]
		slices.SortStableFunc(bin, func(i, j int32) int { return int(code(i)/2) - int(code(j)/2) })
		for n := 0; n < len(bin); {
			end := n + 1
			for end < len(bin) && code(bin[end])/2 == code(bin[n])/2 {
				end++
			}
			if i, j := bin[n], bin[end-1]; end == n+2 {
				same := code(i) == code(j)
				out[i/3][i%3], out[j/3][j%3] = link{j / 3, same}, link{i / 3, same}
			}
			n = end
		}
	}
	return out
}

// align turns single triangles until neighbours agree about which side is outside, and returns how many it has turned. Of
// each piece that hangs together by edges of two triangles the smaller part is turned; a piece that cannot be made to
// agree, such as a Moebius strip, stays as it is.
func align(points int, tris [][3]int32) int {
	across := links(points, tris)
	seen := make([]bool, len(tris))
	wrong := make([]bool, len(tris)) // against the piece's first triangle
	turned := 0
	for i := range tris {
		if seen[i] {
			continue
		}
		piece, ok := follow(int32(i), across, seen, wrong)
		count := 0
		for _, t := range piece {
			if wrong[t] {
				count++
			}
		}
		smaller := 2*count <= len(piece)
		if !ok || count == 0 {
			continue
		}
		for _, t := range piece {
			if wrong[t] == smaller {
				turn(&tris[t])
				turned++
			}
		}
	}
	return turned
}

// follow walks over the piece of a triangle, marks which of its triangles disagree with the first, and reports whether
// that can be said.
func follow(first int32, across [][3]link, seen, wrong []bool) (piece []int32, ok bool) {
	piece, ok = []int32{first}, true
	seen[first] = true
	for n := 0; n < len(piece); n++ {
		t := piece[n]
		for _, l := range across[t] {
			switch want := wrong[t] != l.same; {
			case l.to < 0:
			case !seen[l.to]:
				seen[l.to], wrong[l.to] = true, want
				piece = append(piece, l.to)
			case wrong[l.to] != want:
				ok = false
			}
		}
	}
	return piece, ok
}

// turn lets a triangle face the other way; its first number stays first.
func turn(t *[3]int32) { t[1], t[2] = t[2], t[1] }
