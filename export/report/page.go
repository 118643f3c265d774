package report

import (
	_ "embed"
	"html/template"
	"io"
	"math"
	"strings"

	"foldfit/fold/finding"
)

//go:embed page.html
var pageSource string

var pageTemplate = template.Must(template.New("page").Parse(pageSource))

// File is one file beside the page and what it is for; Path is relative to the page.
type File struct{ Path, About string }

// Page writes the results of a check as one static page that links the given files. It shows the file pattern (a path
// relative to the page; "" for none) as a picture, and fetches nothing else.
func Page(w io.Writer, r Run, files []File, pattern string) error {
	s := speech{r.Tree.Design.Units}
	data := pageData{
		Title: r.Tree.Design.Name, About: r.about(), Verdict: r.Verdict(), Word: strings.ToUpper(string(r.Verdict())), Reason: r.Reason(),
		Unchecked: r.allUnchecked(), Unit: s.unit(), Contact: r.contactOnly(), Files: files, Pattern: pattern, Notes: r.Notes,
		Cautions: Cautions(), Version: r.Version, Tally: tally(r.counted()),
	}
	if r.namesPoints() {
		data.Points = s.pointsNote()
	}
	for _, f := range r.Findings {
		one := pageFinding{f, plain(s.where(f, r.several())), plain(s.concededWords(f))}
		if f.Accepted == nil {
			data.Findings = append(data.Findings, one)
		} else {
			data.Accepted = append(data.Accepted, one)
		}
	}
	data.Postures = allPlain(r.postureWords(s))
	data.Motion, data.Worth, data.Targets = allPlain(r.motionWords(s)), allPlain(r.worthWords(s)), allPlain(r.targetWords(s))
	data.addSchedule(r.Schedule(), s)
	for _, g := range r.Gaps {
		gap, required := s.pair(g.Gap, g.Required, "mm")
		if g.Seat != "" {
			required = "seat " + g.Seat
		}
		data.Gaps = append(data.Gaps, pageGap{g.Posture, g.Kind, g.Between[0] + " to " + g.Between[1], gap, required, r.remark(g)})
	}
	return pageTemplate.Execute(w, data)
}

// pageData is what the page's template shows.
type pageData struct {
	Title, About, Word, Reason, Unit, Contact, Pattern, Version string
	Tally, Points                                               string
	Verdict                                                     Verdict
	Unchecked, Postures, Notes, Cautions                        []string
	Motion, Worth, Targets                                      []string
	Hinges                                                      []pageHinge
	Remarks                                                     []string // on the bend schedule
	Findings, Accepted                                          []pageFinding
	Gaps                                                        []pageGap
	Files                                                       []File
}

type pageFinding struct {
	finding.Finding
	Where, Conceded string
}

type pageGap struct{ Posture, Kind, Between, Gap, Required, Remark string }

// pageHinge is a hinge's line of the bend schedule, and what else there is to know of it.
type pageHinge struct {
	Headline, Name, Rotation, Toward                        string
	Radius, Width, FlexWidth, Thickness, Ratio, Asked, Free string
	Facts                                                   []fact
}

// addSchedule adds the bend schedule.
func (data *pageData) addSchedule(s Schedule, sp speech) {
	for i := range s.Hinges {
		h := &s.Hinges[i]
		one := pageHinge{Headline: plain(h.headline(sp)), Name: h.Name, Rotation: short(math.Abs(h.Angle), 2), Toward: toward(h.Hinge),
			Radius: sp.length(h.Radius), Width: sp.length(h.Width), FlexWidth: sp.length(h.FlexWidth), Thickness: sp.thickness(h.Flex().Stack.Thickness()),
			Ratio: short(h.Flex().Ratio(), 1), Asked: short(h.Asked, 2), Facts: h.facts(s.Datum, sp)}
		if h.Free != nil {
			one.Free = sp.length(h.Free.Radius)
		}
		data.Hinges = append(data.Hinges, one)
	}
	data.Remarks = allPlain(s.remarks(sp))
}

// plain writes ties as ordinary blanks.
func plain(s string) string { return strings.ReplaceAll(s, tie, " ") }

// allPlain does so for a list.
func allPlain(list []string) []string {
	var out []string
	for _, s := range list {
		out = append(out, plain(s))
	}
	return out
}
